package lotproof.study;

import java.util.OptionalDouble;

/**
 * Specification limits of one characteristic, in its own unit of measure. At least one is present.
 *
 * @param lower smallest acceptable value
 * @param upper largest acceptable value
 */
public record Limits(OptionalDouble lower, OptionalDouble upper) {
  public Limits {
    if (lower.isEmpty() && upper.isEmpty()) {
      throw new IllegalArgumentException("limits need a lower or an upper value");
    }
    if (lower.isPresent() && upper.isPresent() && !(lower.getAsDouble() < upper.getAsDouble())) {
      throw new IllegalArgumentException(
          "lower limit " + lower.getAsDouble() + " must be below upper " + upper.getAsDouble());
    }
  }
}
