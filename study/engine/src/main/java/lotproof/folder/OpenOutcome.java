package lotproof.folder;

import java.util.List;
import lotproof.study.DataIssue;

/** What came of opening a study folder. */
public sealed interface OpenOutcome {

  /** The folder is sound. */
  record Opened(StudyContents contents) implements OpenOutcome {}

  /**
   * The folder cannot be used as it is.
   *
   * @param issues all that was found, errors and warnings, at least one error
   */
  record Refused(List<DataIssue> issues) implements OpenOutcome {
    public Refused {
      issues = List.copyOf(issues);
    }
  }
}
