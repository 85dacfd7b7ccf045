package lotproof.report.model;

/**
 * The verdict as a sentence: Print ±50 g? Yes, after a one-point calibration. The data support ±34
 * g.
 *
 * @param question what was asked
 * @param answer yes or no
 * @param reply the answer in words
 * @param support what the data support; may be empty
 */
public record Verdict(String question, Answer answer, String reply, String support) {

  /** Answers. */
  public enum Answer {
    YES("supported"),
    NO("not supported");

    private final String word;

    Answer(String word) {
      this.word = word;
    }

    /** The answer in words; never shown by colour alone. */
    public String word() {
      return word;
    }
  }

  /** All of it. */
  public String text() {
    return (question + " " + reply + " " + support).strip();
  }
}
