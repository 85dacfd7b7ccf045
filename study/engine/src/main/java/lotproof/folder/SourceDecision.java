package lotproof.folder;

import java.util.Optional;
import lotproof.study.Decision;

/**
 * What a person decided about a file that brings other values for readings that the record holds.
 * Both values are kept; this says which one counts.
 *
 * @param choice which one counts
 * @param time when it was decided, as decisions.csv writes it
 * @param who who decided
 * @param why what supports it, in words
 */
public record SourceDecision(Choice choice, String time, String who, String why) {

  /** Which of two values counts. */
  public enum Choice {
    /** The one that is in the record. */
    KEEP_FIRST,
    /** The one of the file that comes in. */
    SUPERSEDE
  }

  public SourceDecision {
    if (who.isBlank() || why.isBlank()) {
      throw new IllegalArgumentException(
          "a decision needs who and why, was \"" + who + "\" and \"" + why + "\"");
    }
  }

  /** As a line of decisions.csv about one run: which of two files counts, by hash. */
  Decision about(String id, String run, String first, String received) {
    boolean supersedes = choice == Choice.SUPERSEDE;
    return new Decision(
        id,
        time,
        who,
        supersedes ? Decision.Action.CORRECTED : Decision.Action.STAYS_IN,
        Decision.Target.RUN,
        run,
        Optional.of(Sources.FIELD),
        Optional.of(supersedes ? received : first),
        supersedes ? "corrected file" : "first file stands",
        why,
        0);
  }

  /** The line that withdraws an earlier decision before it. */
  Decision withdrawing(String id, Decision earlier) {
    return new Decision(
        id,
        time,
        who,
        Decision.Action.WITHDRAWN,
        Decision.Target.RUN,
        earlier.serial(),
        Optional.empty(),
        Optional.of(earlier.id()),
        "",
        why,
        0);
  }
}
