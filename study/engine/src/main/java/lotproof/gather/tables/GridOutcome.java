package lotproof.gather.tables;

import java.util.List;
import lotproof.study.DataIssue;

/** What came of opening a file. */
public sealed interface GridOutcome {

  /**
   * It can be read.
   *
   * @param candidates the ways in which it can be read, at least one
   */
  record Found(List<Grid> candidates) implements GridOutcome {
    public Found {
      candidates = List.copyOf(candidates);
    }
  }

  /** No rows could be made of it; at least one of the issues is an error. */
  record Refused(List<DataIssue> issues) implements GridOutcome {
    public Refused {
      issues = List.copyOf(issues);
    }
  }
}
