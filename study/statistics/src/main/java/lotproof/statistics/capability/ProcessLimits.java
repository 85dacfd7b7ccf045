package lotproof.statistics.capability;

import java.util.OptionalDouble;
import lotproof.statistics.Checks;

/**
 * The limits that a characteristic is held against. At least one limit is present.
 *
 * @param lower smallest acceptable value
 * @param upper largest acceptable value, above the lower one
 */
public record ProcessLimits(OptionalDouble lower, OptionalDouble upper) {
  public ProcessLimits {
    if (lower.isEmpty() && upper.isEmpty()) {
      throw new IllegalArgumentException("limits need a lower or an upper value");
    }
    lower.ifPresent(value -> Checks.finite(value, "lower"));
    upper.ifPresent(value -> Checks.finite(value, "upper"));
    if (lower.isPresent() && upper.isPresent() && !(lower.getAsDouble() < upper.getAsDouble())) {
      throw new IllegalArgumentException(
          "lower limit " + lower.getAsDouble() + " must lie below upper " + upper.getAsDouble());
    }
  }
}
