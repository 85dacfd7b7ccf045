package lotproof.statistics;

/**
 * A confidence interval with the confidence that it is meant to have.
 *
 * @param lower the lower limit; may be negative infinity for a one-sided interval
 * @param upper the upper limit, at or above the lower one; may be positive infinity
 * @param confidence the confidence, as a fraction from 0 to 1
 */
public record Interval(double lower, double upper, double confidence) {
  public Interval {
    if (!(lower <= upper)) {
      throw new IllegalArgumentException(
          "lower must not lie above upper, were " + lower + " and " + upper);
    }
    if (!(confidence >= 0 && confidence <= 1)) {
      throw new IllegalArgumentException("confidence must lie in 0..1, was " + confidence);
    }
  }
}
