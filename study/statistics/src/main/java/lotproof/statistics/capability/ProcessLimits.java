package lotproof.statistics.capability;

import java.util.OptionalDouble;
import lotproof.statistics.Checks;

/**
 * The limits that a characteristic is held against. At least one limit is present.
 *
 * @param lower smallest acceptable value
 * @param upper largest acceptable value, above the lower one
 * @param target the wanted value, if it is not simply "between the limits"
 */
public record ProcessLimits(OptionalDouble lower, OptionalDouble upper, OptionalDouble target) {
  public ProcessLimits {
    if (lower.isEmpty() && upper.isEmpty()) {
      throw new IllegalArgumentException("limits need a lower or an upper value");
    }
    lower.ifPresent(value -> Checks.finite(value, "lower"));
    upper.ifPresent(value -> Checks.finite(value, "upper"));
    target.ifPresent(value -> Checks.finite(value, "target"));
    if (lower.isPresent() && upper.isPresent() && !(lower.getAsDouble() < upper.getAsDouble())) {
      throw new IllegalArgumentException(
          "lower limit " + lower.getAsDouble() + " must lie below upper " + upper.getAsDouble());
    }
  }

  /** A lower and an upper limit, without a target. */
  public static ProcessLimits between(double lower, double upper) {
    return new ProcessLimits(
        OptionalDouble.of(lower), OptionalDouble.of(upper), OptionalDouble.empty());
  }

  /** A lower and an upper limit with a target. */
  public static ProcessLimits between(double lower, double upper, double target) {
    return new ProcessLimits(
        OptionalDouble.of(lower), OptionalDouble.of(upper), OptionalDouble.of(target));
  }

  /** An upper limit alone. */
  public static ProcessLimits atMost(double upper) {
    return new ProcessLimits(
        OptionalDouble.empty(), OptionalDouble.of(upper), OptionalDouble.empty());
  }

  /** A lower limit alone. */
  public static ProcessLimits atLeast(double lower) {
    return new ProcessLimits(
        OptionalDouble.of(lower), OptionalDouble.empty(), OptionalDouble.empty());
  }
}
