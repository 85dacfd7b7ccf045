package lotproof.statistics.tolerance;

import lotproof.statistics.Checks;
import lotproof.statistics.DistributionQuantiles;
import org.apache.commons.math3.analysis.UnivariateFunction;
import org.apache.commons.math3.analysis.solvers.BrentSolver;

/**
 * Exact factors of tolerance intervals for a normal population.
 *
 * <p>Definition: with an estimated mean m and standard deviation s, the factor k is the number for
 * which the limit m + k s (one-sided) or the interval m - k s .. m + k s (two-sided) holds at least
 * the <em>content</em> of the population with the stated <em>confidence</em>.
 *
 * <p>Assumptions: m is normal about the true mean with standard deviation sigma / sqrt(N), s² /
 * sigma² is chi-square over its degrees of freedom nu, and the two are independent. For one random
 * sample of n values N = n and nu = n - 1. For several samples with a common standard deviation, N
 * is the size of the sample whose mean is used and nu the pooled degrees of freedom.
 *
 * <p>The factors are exact up to rounding (about 1e-11 relative): no approximation of Howe or of
 * Natrella stands in between. They guarantee the confidence for normal populations and for no
 * other; see {@link DistributionFree} for limits that need no shape.
 *
 * <p>Sources: ISO 16269-6:2014, Annexes A and F; K. Krishnamoorthy and T. Mathew, Statistical
 * Tolerance Regions, 2009, sections 2.2 and 2.3.
 */
public final class NormalTolerance {
  /** Ratio of the variances of k s and of the mean from which on the mean's is left out. */
  private static final double MEAN_COUNTS_NOTHING = 1e6;

  private NormalTolerance() {}

  /**
   * The one-sided factor of one sample.
   *
   * <p>k = t(confidence; n - 1, z sqrt(n)) / sqrt(n) with the quantile t of the non-central Student
   * distribution and z the normal quantile of the content.
   *
   * @param n sample size, 2 or more
   * @param content fraction of the population to be held, in 0..1
   * @param confidence in 0..1
   * @return the factor; negative when content and confidence ask for less than the median
   */
  public static double oneSidedFactor(int n, double content, double confidence) {
    Checks.atLeast(n, 2, "n");
    return oneSidedFactor((double) n, n - 1.0, content, confidence);
  }

  /**
   * The one-sided factor where the mean and the standard deviation carry information of their own.
   *
   * @param effectiveN sigma² / Var(mean), above 0
   * @param degreesOfFreedom of the standard deviation, at least 0.5
   * @param content fraction of the population to be held, in 0..1
   * @param confidence in 0..1
   */
  public static double oneSidedFactor(
      double effectiveN, double degreesOfFreedom, double content, double confidence) {
    check(effectiveN, degreesOfFreedom, content);
    Checks.fraction(confidence, "confidence");
    return oneSided(effectiveN, degreesOfFreedom, content).factor(confidence);
  }

  /**
   * The content that mean + k s supports, as a standard normal quantile: the lower confidence bound
   * of (limit - true mean) / true standard deviation for a limit that lies k standard deviations
   * above the mean. It keeps its digits where the content itself is too near to 1 to be told from
   * it. For a limit so many standard deviations away that the uncertainty of the mean is below 1e-6
   * of that of k s, that of k s alone is taken, which is chi-square.
   *
   * @param factor (limit - mean) / s
   */
  public static double oneSidedContentQuantile(
      double effectiveN, double degreesOfFreedom, double factor, double confidence) {
    Checks.positive(effectiveN, "effectiveN");
    checkDegreesOfFreedom(degreesOfFreedom);
    Checks.finite(factor, "factor");
    Checks.fraction(confidence, "confidence");
    if (effectiveN * factor * factor > MEAN_COUNTS_NOTHING * (1 + degreesOfFreedom)) {
      double chiSquare =
          factor > 0
              ? DistributionQuantiles.chiSquare(degreesOfFreedom, 1 - confidence)
              : DistributionQuantiles.chiSquareUpper(degreesOfFreedom, 1 - confidence);
      return factor * Math.sqrt(chiSquare / degreesOfFreedom);
    }
    UnivariateFunction excess =
        z -> confidence - 1 + OneSidedProblem.of(effectiveN, degreesOfFreedom, z).failure(factor);
    double reach = 1 / Math.sqrt(effectiveN) + Math.abs(factor) / Math.sqrt(degreesOfFreedom);
    double low = factor;
    double high = factor;
    while (excess.value(low) > 0) {
      low -= reach;
      reach *= 2;
    }
    while (excess.value(high) < 0) {
      high += reach;
      reach *= 2;
    }
    return low == high ? low : new BrentSolver(1e-14, 1e-13).solve(500, excess, low, high);
  }

  /**
   * The two-sided factor of one sample: mean ± k s holds at least the content, wherever it lies.
   *
   * @param n sample size, 2 or more
   * @param content fraction of the population to be held, in 0..1
   * @param confidence in 0..1
   */
  public static double twoSidedFactor(int n, double content, double confidence) {
    Checks.atLeast(n, 2, "n");
    return twoSidedFactor((double) n, n - 1.0, content, confidence);
  }

  /**
   * The two-sided factor where the mean and the standard deviation carry information of their own.
   *
   * <p>k solves 2 sqrt(N) Integral over x from 0 of phi(sqrt(N) x) Pr(chi-square(nu) &gt;= nu r(x)²
   * / k²) dx = confidence, where r(x) solves Phi(x + r) - Phi(x - r) = content.
   *
   * @param effectiveN sigma² / Var(mean), at least 0.01
   * @param degreesOfFreedom of the standard deviation, at least 0.5
   * @param content fraction of the population to be held, in 0..1
   * @param confidence in 0..1
   */
  public static double twoSidedFactor(
      double effectiveN, double degreesOfFreedom, double content, double confidence) {
    checkTwoSided(effectiveN, degreesOfFreedom, content);
    Checks.fraction(confidence, "confidence");
    return new TwoSidedProblem(effectiveN, degreesOfFreedom, content).factor(confidence);
  }

  private static OneSidedProblem oneSided(
      double effectiveN, double degreesOfFreedom, double content) {
    return OneSidedProblem.of(effectiveN, degreesOfFreedom, DistributionQuantiles.normal(content));
  }

  private static void check(double effectiveN, double degreesOfFreedom, double content) {
    Checks.positive(effectiveN, "effectiveN");
    checkDegreesOfFreedom(degreesOfFreedom);
    Checks.fraction(content, "content");
  }

  private static void checkTwoSided(double effectiveN, double degreesOfFreedom, double content) {
    if (!(effectiveN >= 0.01 && effectiveN <= 1e12)) {
      throw new IllegalArgumentException("effectiveN must lie in 0.01..1e12, was " + effectiveN);
    }
    checkDegreesOfFreedom(degreesOfFreedom);
    Checks.fraction(content, "content");
  }

  private static void checkDegreesOfFreedom(double degreesOfFreedom) {
    if (!(degreesOfFreedom >= 0.5 && degreesOfFreedom <= 1e9)) {
      throw new IllegalArgumentException(
          "degreesOfFreedom must lie in 0.5..1e9, was " + degreesOfFreedom);
    }
  }
}
