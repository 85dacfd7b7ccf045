package lotproof.folder.definition;

import java.util.List;
import lotproof.study.DataIssue;
import lotproof.study.Study;

/** What came of reading a study file. */
public sealed interface StudyOutcome {

  /** The definition is sound. */
  record Defined(Study study) implements StudyOutcome {}

  /** All that is wrong with it, in file order. */
  record Refused(List<DataIssue> issues) implements StudyOutcome {
    public Refused {
      issues = List.copyOf(issues);
    }
  }
}
