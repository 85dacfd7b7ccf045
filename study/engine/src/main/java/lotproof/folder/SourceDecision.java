package lotproof.folder;

import java.util.Optional;
import lotproof.study.Decision;
import lotproof.study.Decision.Action;
import lotproof.study.Decision.Target;

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
    Optional<String> field = Optional.of(Sources.FIELD);
    return choice == Choice.SUPERSEDE
        ? line(id, Action.CORRECTED, run, field, received, "corrected file")
        : line(id, Action.STAYS_IN, run, field, first, "first file stands");
  }

  /** The line that withdraws an earlier decision before it. */
  Decision withdrawing(String id, Decision earlier) {
    return line(id, Action.WITHDRAWN, earlier.serial(), Optional.empty(), earlier.id(), "");
  }

  private Decision line(
      String id, Action action, String run, Optional<String> field, String value, String cause) {
    Optional<String> said = Optional.of(value);
    return new Decision(id, time, who, action, Target.RUN, run, field, said, cause, why, 0);
  }
}
