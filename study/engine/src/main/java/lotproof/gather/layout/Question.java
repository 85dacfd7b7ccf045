package lotproof.gather.layout;

import java.util.List;
import java.util.Optional;
import lotproof.gather.tables.Mapping;
import lotproof.gather.tables.Setting;
import lotproof.study.DataIssue;

/**
 * Something that the file leaves open and that is not guessed.
 *
 * @param setting what is asked about the file as a whole; empty when a column is meant
 * @param header header of the column that is meant, as the file writes it
 * @param text the question
 * @param choices what can be answered, the likelier first; never taken without an answer
 * @param unanswered the issue when nobody answers
 */
public record Question(
    Optional<Setting> setting,
    String header,
    String text,
    List<Choice> choices,
    DataIssue unanswered) {

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
    return setting
        .map(whole -> mapping.with(whole, value))
        .orElseGet(() -> mapping.withColumn(header, value));
  }

  /** Why something else than a choice is no answer; nothing when the option would take it. */
  public Optional<String> whyNot(String value) {
    return setting.isPresent() ? setting.get().whyNot(value) : MappingFile.whyNotMeaning(value);
  }

  boolean isAbout(Question other) {
    return setting.equals(other.setting) && header.equals(other.header);
  }
}
