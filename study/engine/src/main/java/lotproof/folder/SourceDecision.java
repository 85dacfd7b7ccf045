package lotproof.folder;

import java.util.Optional;
import lotproof.study.Decision;

/**
 * What a person decided about a file that brings other values for readings that the record holds.
 * Both values are kept; this says which one counts.
 *
 * @param time when it was decided, as decisions.csv writes it
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
    return choice == Choice.SUPERSEDE
        ? line(id, Decision.Action.CORRECTED, run, received, "corrected file")
        : line(id, Decision.Action.STAYS_IN, run, first, "first file stands");
  }

  /** The line that withdraws an earlier decision before it. */
  Decision withdrawing(String id, Decision earlier) {
    return line(id, Decision.Action.WITHDRAWN, earlier.serial(), earlier.id(), "");
  }

  private Decision line(String id, Decision.Action action, String run, String value, String cause) {
    boolean withdrawn = action == Decision.Action.WITHDRAWN;
    return new Decision(
        id,
        time,
        who,
        action,
        Decision.Target.RUN,
        run,
        withdrawn ? Optional.empty() : Optional.of(Sources.FIELD),
        Optional.of(value),
        cause,
        why,
        0);
  }
}
