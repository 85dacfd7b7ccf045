package lotproof.report.model;

import java.util.List;
import java.util.OptionalLong;

/**
 * What the report is about and what it was made from, so that anyone can make it again.
 *
 * @param title title of the study
 * @param question what the maker wants to know
 * @param recordHash hash of the record that was read, lower-case hexadecimal
 * @param toolVersion version of the program
 * @param seed seed of everything random; absent where nothing is
 * @param generatedFrom the inputs in words, such as how many readings from which files
 * @param facts what was measured, how much of it, and when
 * @param conditions under which its figures hold
 */
public record Identity(
    String title,
    String question,
    String recordHash,
    String toolVersion,
    OptionalLong seed,
    String generatedFrom,
    List<String> facts,
    List<String> conditions) {
  public Identity {
    facts = List.copyOf(facts);
    conditions = List.copyOf(conditions);
    Check.text(title, "title");
  }

  /** The seed in words. */
  public String seedText() {
    return seed.isPresent() ? Long.toString(seed.getAsLong()) : "none, nothing is random";
  }
}
