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
    Checks.fraction(confidence, "confidence");
  }

  /**
   * The interval of a standard deviation from chi-square, exact for independent normal values: sd
   * sqrt(nu / q), q the two quantiles of chi-square.
   *
   * @param sd 0 or above
   * @param degreesOfFreedom nu, above 0, need not be whole
   * @param confidence in 0..1
   */
  public static Interval ofStandardDeviation(
      double sd, double degreesOfFreedom, double confidence) {
    double tail = (1 - Checks.fraction(confidence, "confidence")) / 2;
    double high = DistributionQuantiles.chiSquareUpper(degreesOfFreedom, tail);
    double low = DistributionQuantiles.chiSquare(degreesOfFreedom, tail);
    return new Interval(
        sd * Math.sqrt(degreesOfFreedom / high),
        sd * Math.sqrt(degreesOfFreedom / low),
        confidence);
  }

  /** True when the value lies inside or on an end. */
  public boolean contains(double value) {
    return value >= lower && value <= upper;
  }
}
