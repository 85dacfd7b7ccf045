package lotproof.claim;

/**
 * Something that is wrong with a draft claim.
 *
 * @param kind what sort of trouble
 * @param about what it is about, in a word or two
 * @param message what is wrong, and what would be right
 */
public record DraftFinding(Kind kind, String about, String message) {
  /** Sorts of trouble. */
  public enum Kind {
    /** The draft leaves out a condition that it needs. */
    NOT_STATED("not stated"),
    /** The draft says more than the study supports. */
    OVERSTATED("overstated"),
    /** The draft uses words that no study of this kind supports. */
    WORDS("words");

    private final String word;

    Kind(String word) {
      this.word = word;
    }

    /** For people. */
    public String word() {
      return word;
    }
  }
}
