package lotproof.claim;

import java.util.List;
import java.util.Optional;
import lotproof.study.Provenance;

/**
 * A number with what it was computed from, down to file and row. {@link Rule} says how the value
 * follows from the parts, so that the tree can be recomputed.
 *
 * @param label what the number is
 * @param value the number
 * @param unit its unit of measure
 * @param rule how it follows from the parts
 * @param how the rule in words
 * @param parts what it was computed from
 * @param source file and row, for a number that was read
 */
public record Explanation(
    String label,
    double value,
    String unit,
    Rule rule,
    String how,
    List<Explanation> parts,
    Optional<Provenance> source) {

  /** How a value follows from its parts. */
  public enum Rule {
    /** The smallest multiple of the second part that is not below the first. */
    ROUNDED_OUTWARD,
    /** The sum of the parts. */
    SUM,
    /** The largest part. */
    LARGEST,
    /** The size of the only part. */
    SIZE,
    /** The size of the first part divided by the second. */
    SHARE,
    /** Error of reading from the parts: see lotproof.reduce.ErrorOfReading. */
    ERROR_OF_READING,
    /** A fit or a bound from it; the parts are its ingredients. */
    MODEL,
    /** Given: read from a file, the study or a table. */
    GIVEN
  }

  public Explanation {
    parts = List.copyOf(parts);
  }

  /** A number without parts that was read from a file. */
  static Explanation read(String label, double value, String unit, Provenance source) {
    return new Explanation(
        label, value, unit, Rule.GIVEN, "as read", List.of(), Optional.of(source));
  }

  /** A number without parts that is given by the study or by a table. */
  static Explanation given(String label, double value, String unit, String how) {
    return new Explanation(label, value, unit, Rule.GIVEN, how, List.of(), Optional.empty());
  }

  /** A number with parts. */
  static Explanation of(
      String label, double value, String unit, Rule rule, String how, List<Explanation> parts) {
    return new Explanation(label, value, unit, rule, how, parts, Optional.empty());
  }
}
