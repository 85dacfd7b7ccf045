package lotproof.statistics;

/**
 * A confidence interval.
 *
 * @param lower lower end, may be minus infinity
 * @param upper upper end, at or above the lower end, may be plus infinity
 * @param confidence share of studies in which such an interval holds the true value, 0.95 means 95
 *     %
 */
public record Interval(double lower, double upper, double confidence) {
  public Interval {
    if (!(lower <= upper)) {
      throw new IllegalArgumentException(
          "lower end must not be above the upper end, was " + lower + " and " + upper);
    }
    if (!(confidence > 0 && confidence < 1)) {
      throw new IllegalArgumentException(
          "confidence must lie between 0 and 1 (0.95 means 95 %), was " + confidence);
    }
  }

  /** True when the value lies inside or on an end. */
  public boolean contains(double value) {
    return value >= lower && value <= upper;
  }
}
