package lotproof.study;

import java.util.OptionalDouble;

/**
 * A property of a pair that is computed from one load run and whose spread over units is studied.
 */
public enum Characteristic implements Keyed {
  SENSITIVITY("Sensitivity", "mV/V", "slope of the reference line, scaled to rated capacity"),
  FACTOR("Factor", "counts/kg", "slope of the reference line in converter counts"),
  ZERO("Zero", "mV/V", "output without load at the start of the run"),
  NON_LINEARITY(
      "Non-linearity",
      "% of capacity",
      "largest signed distance of the rising readings from the reference line"),
  HYSTERESIS(
      "Hysteresis",
      "% of capacity",
      "largest signed difference between falling and rising readings at the same load"),
  ZERO_RETURN("Zero return", "g", "output without load at the end minus that at the start"),
  NOISE("Noise", "g", "root mean square of the sample noise over the run");

  private final String title;
  private final String unit;
  private final String definition;

  Characteristic(String title, String unit, String definition) {
    this.title = title;
    this.unit = unit;
    this.definition = definition;
  }

  /** The name shown to people. */
  public String title() {
    return title;
  }

  /** Unit of measure of its values. */
  public String unit() {
    return unit;
  }

  /** What it is, in one line. */
  public String definition() {
    return definition;
  }

  /**
   * Specification limits of one characteristic, in its own unit of measure. At least one is
   * present.
   */
  public record Limits(OptionalDouble lower, OptionalDouble upper) {
    /** Largest size of a limit; what is beyond is no limit of a quantity that anybody measures. */
    private static final double MOST = 1e15;

    public Limits {
      if (lower.isEmpty() && upper.isEmpty()) {
        throw new IllegalArgumentException("limits need a lower or an upper value");
      }
      if (lower.isPresent() && upper.isPresent() && !(lower.getAsDouble() < upper.getAsDouble())) {
        throw new IllegalArgumentException(
            "lower limit " + lower.getAsDouble() + " must be below upper " + upper.getAsDouble());
      }
      lower.ifPresent(value -> check(value, "lower"));
      upper.ifPresent(value -> check(value, "upper"));
    }

    private static void check(double value, String name) {
      if (!(Math.abs(value) <= MOST)) {
        throw new IllegalArgumentException(
            name + " limit must lie between -1e15 and 1e15, was " + value);
      }
    }
  }
}
