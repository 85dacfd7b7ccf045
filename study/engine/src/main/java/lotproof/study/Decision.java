package lotproof.study;

import java.util.Optional;

/**
 * One line of decisions.csv: what a person decided about a unit or a run, and why. Lines are only
 * ever added; a line is undone by a later WITHDRAWN line that names it.
 *
 * @param id unique name of the decision, such as D1
 * @param time when, as written (ISO 8601)
 * @param serial serial of the cell or board, or the name of the run
 * @param field for a correction the field of the run that was wrong (cell or board); for a screen
 *     the key of the characteristic that production tests
 * @param value for a correction the right value; for a withdrawal the id of the decision that it
 *     undoes; for a run that was measured again the name of the later run; for a screen its limits,
 *     such as "at most 0.6 g"
 * @param cause the cause, from the list agreed before the study, or for a unit that stays in: none
 *     found
 * @param evidence what supports it, in words
 * @param line line of decisions.csv, counted from 1
 */
public record Decision(
    String id,
    String time,
    String who,
    Action action,
    Target target,
    String serial,
    Optional<String> field,
    Optional<String> value,
    String cause,
    String evidence,
    int line) {

  /** What a decision does to the readings. */
  public enum Action implements Keyed {
    EXCLUDED,
    STAYS_IN,
    CORRECTED,
    /** A run was measured again; which of the two counts follows from the cause. */
    RE_MEASURED,
    /** Production will test every unit for what sets this one apart. */
    SCREENED,
    WITHDRAWN;

    /** The word used in decisions.csv. */
    @Override
    public String key() {
      return this == STAYS_IN ? "stays in" : Keyed.super.key();
    }
  }

  /** What a decision is about. */
  public enum Target implements Keyed {
    CELL,
    BOARD,
    RUN
  }

  public Decision {
    Require.text(id, "decision id");
    Require.text(serial, "serial");
  }
}
