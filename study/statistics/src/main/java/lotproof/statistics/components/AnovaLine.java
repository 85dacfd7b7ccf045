package lotproof.statistics.components;

import java.util.Optional;

/**
 * One line of a balanced analysis of variance.
 *
 * @param name factor, or residual
 * @param sumOfSquares of the factor after all coarser ones
 * @param degreesOfFreedom of the sum
 * @param rawVariance component that equates mean squares and their expectations; may be negative
 * @param variance raw variance, negative values cut to zero
 * @param share of the variance in the sum of all variances, 0..1
 * @param readingsPerLevel multiplier of this component in its own expected mean square
 * @param test against the line whose expected mean square lacks just this component, where there is
 *     one
 */
public record AnovaLine(
    String name,
    double sumOfSquares,
    int degreesOfFreedom,
    double rawVariance,
    double variance,
    double share,
    double readingsPerLevel,
    Optional<RatioTest> test) {

  /**
   * Ratio of two mean squares.
   *
   * @param against name of the line in the denominator
   * @param ratio F
   * @param probability of a ratio at least as large when the component is zero
   */
  public record RatioTest(String against, double ratio, double probability) {}

  public double meanSquare() {
    return sumOfSquares / degreesOfFreedom;
  }
}
