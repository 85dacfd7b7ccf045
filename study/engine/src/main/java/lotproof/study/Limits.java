package lotproof.study;

import java.util.OptionalDouble;

/**
 * Specification limits of one characteristic, in its own unit of measure. At least one is present.
 *
 * @param lower smallest acceptable value
 * @param upper largest acceptable value
 */
public record Limits(OptionalDouble lower, OptionalDouble upper) {
  /** Largest size of a limit; what is beyond is no limit of a quantity that anybody measures. */
  public static final double MOST = 1e15;

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
