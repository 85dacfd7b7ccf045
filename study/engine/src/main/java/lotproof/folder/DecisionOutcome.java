package lotproof.folder;

import java.util.List;
import lotproof.study.DataIssue;
import lotproof.study.Decision;

/** What came of adding a decision. */
public sealed interface DecisionOutcome {

  /** It is the last line of decisions.csv. */
  record Recorded(Decision decision) implements DecisionOutcome {}

  /** Nothing was written; at least one of the issues is an error. */
  record Refused(List<DataIssue> issues) implements DecisionOutcome {
    public Refused {
      issues = List.copyOf(issues);
    }
  }
}
