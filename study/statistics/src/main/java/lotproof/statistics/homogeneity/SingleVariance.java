package lotproof.statistics.homogeneity;

import lotproof.statistics.Checks;
import lotproof.statistics.DistributionQuantiles;
import org.apache.commons.math3.analysis.UnivariateFunction;
import org.apache.commons.math3.analysis.solvers.BrentSolver;
import org.apache.commons.statistics.distribution.ChiSquaredDistribution;

/**
 * The test of one variance against a stated one: T = nu s² / sigma0², chi-square with nu degrees of
 * freedom if the values are normal with standard deviation sigma0.
 *
 * <p>Source: NIST/SEMATECH e-Handbook, 1.3.5.8 and 7.2.3.2.
 *
 * @param statistic T
 * @param degreesOfFreedom nu
 * @param pLower chance of so small a T
 * @param pUpper chance of so large a T
 */
public record SingleVariance(
    double statistic, double degreesOfFreedom, double pLower, double pUpper) {

  /** The test of a standard deviation against a stated one. */
  public static SingleVariance test(double sd, double degreesOfFreedom, double statedSd) {
    Checks.notNegative(sd, "sd");
    Checks.positive(degreesOfFreedom, "degreesOfFreedom");
    Checks.positive(statedSd, "statedSd");
    double ratio = sd / statedSd;
    double statistic = degreesOfFreedom * ratio * ratio;
    ChiSquaredDistribution chiSquare = ChiSquaredDistribution.of(degreesOfFreedom);
    return new SingleVariance(
        statistic,
        degreesOfFreedom,
        chiSquare.cumulativeProbability(statistic),
        chiSquare.survivalProbability(statistic));
  }

  /** The chance, two-sided, of a T as far out as this one. */
  public double pTwoSided() {
    return Math.min(1, 2 * Math.min(pLower, pUpper));
  }

  /**
   * The degrees of freedom with which an upper one-sided test finds a variance that is larger than
   * the stated one.
   *
   * <p>They solve Pr(chi-square(nu) &lt; c / ratio) = miss with c the upper alpha quantile.
   *
   * @param ratio true variance / stated variance, above 1
   * @param alpha chance of a false alarm
   * @param miss chance of finding nothing
   * @return the degrees of freedom, not rounded
   */
  public static double degreesOfFreedomToDetect(double ratio, double alpha, double miss) {
    if (!(ratio > 1 && Double.isFinite(ratio))) {
      throw new IllegalArgumentException("ratio must be above 1 and finite, was " + ratio);
    }
    Checks.fraction(alpha, "alpha");
    Checks.fraction(miss, "miss");
    UnivariateFunction excess =
        logDf -> {
          double df = Math.exp(logDf);
          double critical = DistributionQuantiles.chiSquareUpper(df, alpha);
          return ChiSquaredDistribution.of(df).cumulativeProbability(critical / ratio) - miss;
        };
    double low = Math.log(0.5);
    double high = Math.log(1e7);
    if (excess.value(low) <= 0) {
      return 0.5;
    }
    if (excess.value(high) > 0) {
      throw new IllegalArgumentException("ratio must be farther from 1 to be found, was " + ratio);
    }
    return Math.exp(new BrentSolver(1e-13, 1e-13).solve(200, excess, low, high));
  }
}
