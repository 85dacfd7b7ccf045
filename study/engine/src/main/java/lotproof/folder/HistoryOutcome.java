package lotproof.folder;

import java.util.List;
import lotproof.study.ClaimVersion;
import lotproof.study.DataIssue;
import lotproof.study.WatchLine;

/** What came of reading or adding to the history of a study folder. */
public sealed interface HistoryOutcome {

  /**
   * The history as it is now.
   *
   * @param watch checks of later lots, in the order in which they were made
   * @param claims versions of the claim, in the order in which they were issued
   */
  record Known(List<WatchLine> watch, List<ClaimVersion> claims) implements HistoryOutcome {
    public Known {
      watch = List.copyOf(watch);
      claims = List.copyOf(claims);
    }
  }

  /** Nothing was written; at least one of the issues is an error. */
  record Refused(List<DataIssue> issues) implements HistoryOutcome {
    public Refused {
      issues = List.copyOf(issues);
    }
  }
}
