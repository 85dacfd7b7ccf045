package lotproof.report.model;

import java.util.List;
import java.util.Optional;

/**
 * What a reader learns first.
 *
 * @param verdict the question, the answer and what the data support
 * @param claimSentence the claim with its content, confidence and conditions, ready to be quoted;
 *     empty when the study supports no figure
 * @param figure the figure itself, or why there is none
 * @param verdicts answers to the questions that were asked
 * @param thingsToKnow what a reader must not miss, most important first; three of them as a rule
 * @param conditions under which conditions the figure holds
 */
public record Headline(
    Sentence verdict,
    String claimSentence,
    KeyFigure figure,
    List<Verdict> verdicts,
    List<Prose> thingsToKnow,
    List<Prose> conditions) {
  public Headline {
    verdicts = List.copyOf(verdicts);
    thingsToKnow = List.copyOf(thingsToKnow);
    conditions = List.copyOf(conditions);
  }

  /**
   * The verdict as a sentence: Print ±50 g? Yes, after a one-point calibration. The data support
   * ±34 g.
   */
  public record Sentence(String question, Answer answer, String reply, String support) {
    /** All of it. */
    public String text() {
      return (question + " " + reply + " " + support).strip();
    }
  }

  /** The number that everything is about, or why there is none. */
  public sealed interface KeyFigure {
    /** What the number is, such as: error of reading after a two-point calibration. */
    String of();
  }

  /**
   * A figure that the study supports.
   *
   * @param sign sign before the number, such as ±; may be empty
   * @param from how it follows from the report's tables, for a workbook; may be empty
   * @param evidence id of the explanation of the figure; empty where there is none
   */
  public record Supported(
      String of, String sign, Quantity amount, Optional<Formula> from, String evidence)
      implements KeyFigure {}

  /** No figure: what the number would have been, and why there is none. */
  public record NotSupported(String of, String reason) implements KeyFigure {}

  /** An answer to a question such as: ±50 g after a two-point calibration?, with its reason. */
  public record Verdict(Answer answer, String question, Prose because) {
    public Verdict {
      Check.text(question, "question");
    }
  }

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
}
