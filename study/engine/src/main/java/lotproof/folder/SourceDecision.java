package lotproof.folder;

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
}
