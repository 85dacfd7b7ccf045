package lotproof.statistics.homogeneity;

import lotproof.statistics.Checks;
import lotproof.statistics.DistributionQuantiles;
import lotproof.statistics.Interval;
import org.apache.commons.statistics.distribution.FDistribution;

/**
 * The test of two variances: F = s1² / s2², for normal values. Sensitive to any other shape; {@link
 * BrownForsythe} is not.
 *
 * <p>Source: NIST/SEMATECH e-Handbook, 1.3.5.9.
 *
 * @param statistic F
 * @param numeratorDf degrees of freedom of the first variance
 * @param denominatorDf degrees of freedom of the second variance
 * @param pTwoSided chance of so unequal variances, either way
 */
public record VarianceRatio(
    double statistic, double numeratorDf, double denominatorDf, double pTwoSided) {

  /** The test of two variances with their degrees of freedom; both variances above zero. */
  public static VarianceRatio test(
      double variance1, double degreesOfFreedom1, double variance2, double degreesOfFreedom2) {
    Checks.positive(variance1, "variance1");
    Checks.positive(degreesOfFreedom1, "degreesOfFreedom1");
    Checks.positive(variance2, "variance2");
    Checks.positive(degreesOfFreedom2, "degreesOfFreedom2");
    double f = variance1 / variance2;
    FDistribution distribution = FDistribution.of(degreesOfFreedom1, degreesOfFreedom2);
    double tail =
        Math.min(distribution.cumulativeProbability(f), distribution.survivalProbability(f));
    return new VarianceRatio(f, degreesOfFreedom1, degreesOfFreedom2, Math.min(1, 2 * tail));
  }

  /** The confidence interval of the ratio of the true variances. */
  public Interval interval(double confidence) {
    double tail = (1 - Checks.fraction(confidence, "confidence")) / 2;
    return new Interval(
        statistic / DistributionQuantiles.fisherUpper(numeratorDf, denominatorDf, tail),
        statistic / DistributionQuantiles.fisher(numeratorDf, denominatorDf, tail),
        confidence);
  }
}
