package lotproof.claim;

import java.util.List;
import java.util.Optional;
import lotproof.claim.evidence.GuardBands;
import lotproof.reduce.Direction;
import lotproof.study.Provenance;
import lotproof.study.SideTest;

/**
 * A number with what it was computed from, down to file and row. {@link Rule} says how the value
 * follows from the parts, so that the tree can be recomputed.
 *
 * @param rule how it follows from the parts
 * @param source file and row, for a number that was read
 */
public record Explanation(
    What what, double value, Rule rule, List<Explanation> parts, Optional<Provenance> source) {

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

  /** What a number is. */
  public sealed interface What {
    /** Unit of the number. */
    default String unit() {
      return "g";
    }

    /** A number that its quantity names. */
    record Of(Quantity quantity) implements What {
      @Override
      public String unit() {
        return quantity.unit;
      }
    }

    record GuardBand(GuardBands.Kind kind) implements What {}

    /** What a supplementary test adds, from so many runs. */
    record SideTestAllowance(SideTest.Effect effect, int runs) implements What {}

    /** Standard deviation of a source, by its name for people. */
    record Spread(String title) implements What {}

    /** The model's limit at its worst load. */
    record LimitAtLoad(double loadKilograms, Direction direction) implements What {}

    /** Largest error over the tested kits, found on this pair. */
    record LargestTested(String pair) implements What {}

    /** The largest but {@code rank - 1} of virtual kits. */
    record VirtualKits(int rank, int kits) implements What {}

    record ErrorOfReading(String pair, String run, double loadKilograms, Direction direction)
        implements What {}
  }

  /** Numbers that need no more to be named. */
  public enum Quantity {
    PRINTABLE_FIGURE("g"),
    LIMIT("g"),
    BOUND_FOR_ANY("g"),
    ROUNDING_STEP("g"),
    BOUND_BY_MODEL("g"),
    MEAN_ERROR("g"),
    BOUND_OVER_ALL_LOADS("g"),
    SIDE_TEST_MODEL("g"),
    SIDE_TEST_LARGEST("g"),
    FORM_WEIGHT("1"),
    OUTPUT_WITHOUT_LOAD("counts"),
    OUTPUT_AT_LOAD("counts"),
    APPLIED_LOAD("kg"),
    FACTORY_FACTOR("counts/kg"),
    CALIBRATION_MASS("kg"),
    OUTPUT_AT_CALIBRATION_MASS("counts");

    private final String unit;

    Quantity(String unit) {
      this.unit = unit;
    }
  }

  public Explanation {
    parts = List.copyOf(parts);
  }

  /** A number without parts that was read from a file. */
  static Explanation read(Quantity quantity, double value, Provenance source) {
    return new Explanation(
        new What.Of(quantity), value, Rule.GIVEN, List.of(), Optional.of(source));
  }

  /** A number without parts. */
  static Explanation given(What what, double value) {
    return of(what, value, Rule.GIVEN, List.of());
  }

  static Explanation given(Quantity quantity, double value) {
    return given(new What.Of(quantity), value);
  }

  /** A number with parts. */
  static Explanation of(What what, double value, Rule rule, List<Explanation> parts) {
    return new Explanation(what, value, rule, parts, Optional.empty());
  }
}
