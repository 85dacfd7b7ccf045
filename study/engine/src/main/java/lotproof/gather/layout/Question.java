package lotproof.gather.layout;

import java.util.List;
import lotproof.gather.tables.Mapping;
import lotproof.gather.tables.Setting;
import lotproof.study.DataIssue;

/**
 * Something that the file leaves open and that is not guessed.
 *
 * @param about what the answer is about
 * @param text the question
 * @param choices what can be answered, the likelier first; never taken without an answer
 * @param unanswered the issue when nobody answers
 */
public record Question(About about, String text, List<Choice> choices, DataIssue unanswered) {

  /** What an answer is about. */
  public sealed interface About {
    /** The file as a whole. */
    record Whole(Setting setting) implements About {}

    /** A column, by its header in the file. */
    record Column(String header) implements About {}
  }

  /**
   * A possible answer.
   *
   * @param value the answer as a mapping holds it
   * @param words what it means, in words
   */
  public record Choice(String value, String words) {}

  public Question {
    choices = List.copyOf(choices);
  }

  /** A mapping with the answer to this question. */
  public Mapping answered(Mapping mapping, String value) {
    if (about instanceof About.Whole whole) {
      return mapping.with(whole.setting(), value);
    }
    return mapping.withColumn(((About.Column) about).header(), value);
  }
}
