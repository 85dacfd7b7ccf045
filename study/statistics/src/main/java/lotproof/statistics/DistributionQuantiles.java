package lotproof.statistics;

import org.apache.commons.statistics.distribution.BetaDistribution;
import org.apache.commons.statistics.distribution.ChiSquaredDistribution;
import org.apache.commons.statistics.distribution.ContinuousDistribution;
import org.apache.commons.statistics.distribution.FDistribution;
import org.apache.commons.statistics.distribution.NormalDistribution;
import org.apache.commons.statistics.distribution.TDistribution;

/**
 * Quantiles of the sampling distributions, to about 1e-13 relative.
 *
 * <p>The library inverts a distribution function with Brent's method and stops at an absolute step
 * of 1e-9, which is coarse for quantiles near zero. Here Newton steps on whichever tail is the
 * smaller finish each quantile, from a close approximation where there is one.
 *
 * <p>Every method comes in two forms: by the probability below, and by the probability above the
 * quantile. Use the second for upper quantiles: 1 - p loses digits when p is close to 1.
 */
public final class DistributionQuantiles {
  /** The standard normal distribution. */
  public static final NormalDistribution NORMAL = NormalDistribution.of(0, 1);

  private static final int MOST_STEPS = 12;

  private DistributionQuantiles() {}

  /** The standard normal quantile with probability {@code below} beneath it. */
  public static double normal(double below) {
    return NORMAL.inverseCumulativeProbability(Checks.fraction(below, "below"));
  }

  /** The standard normal quantile with probability {@code above} over it. */
  public static double normalUpper(double above) {
    return NORMAL.inverseSurvivalProbability(Checks.fraction(above, "above"));
  }

  /** The chi-square quantile with probability {@code below} beneath it. */
  public static double chiSquare(double degreesOfFreedom, double below) {
    return chiSquare(degreesOfFreedom, below, true, normal(below));
  }

  /** The chi-square quantile with probability {@code above} over it. */
  public static double chiSquareUpper(double degreesOfFreedom, double above) {
    return chiSquare(degreesOfFreedom, above, false, normalUpper(above));
  }

  /** Starts from the cube of a normal quantile z (Wilson and Hilferty 1931). */
  private static double chiSquare(double df, double p, boolean below, double z) {
    double spread = 2 / (9 * Checks.positive(df, "degreesOfFreedom"));
    double root = Math.max(0, 1 - spread + z * Math.sqrt(spread));
    return quantile(ChiSquaredDistribution.of(df), p, below, df * root * root * root);
  }

  /** Student's t quantile with probability {@code below} beneath it. */
  public static double student(double degreesOfFreedom, double below) {
    return student(degreesOfFreedom, below, true, normal(below));
  }

  /** Student's t quantile with probability {@code above} over it. */
  public static double studentUpper(double degreesOfFreedom, double above) {
    return student(degreesOfFreedom, above, false, normalUpper(above));
  }

  /** Starts from two terms of the expansion about the normal quantile z. */
  private static double student(double df, double p, boolean below, double z) {
    Checks.positive(df, "degreesOfFreedom");
    double z3 = z * z * z;
    double first = (z3 + z) / (4 * df);
    double second = (5 * z3 * z * z + 16 * z3 + 3 * z) / (96 * df * df);
    return quantile(TDistribution.of(df), p, below, df < 4 ? Double.NaN : z + first + second);
  }

  /** The quantile of a variance ratio (F) with probability {@code below} beneath it. */
  public static double fisher(double numeratorDf, double denominatorDf, double below) {
    return quantile(fisherDistribution(numeratorDf, denominatorDf), below, true, Double.NaN);
  }

  /** The quantile of a variance ratio (F) with probability {@code above} over it. */
  public static double fisherUpper(double numeratorDf, double denominatorDf, double above) {
    return quantile(fisherDistribution(numeratorDf, denominatorDf), above, false, Double.NaN);
  }

  private static ContinuousDistribution fisherDistribution(double numeratorDf, double denomDf) {
    return FDistribution.of(
        Checks.positive(numeratorDf, "numeratorDf"), Checks.positive(denomDf, "denominatorDf"));
  }

  /** The beta quantile with probability {@code below} beneath it. */
  public static double beta(double alpha, double beta, double below) {
    Checks.positive(alpha, "alpha");
    Checks.positive(beta, "beta");
    return quantile(BetaDistribution.of(alpha, beta), below, true, Double.NaN);
  }

  private static double quantile(
      ContinuousDistribution distribution, double p, boolean below, double start) {
    Checks.fraction(p, below ? "below" : "above");
    boolean lowerTail = below == p <= 0.5;
    double tail = Math.min(p, 1 - p);
    double x = start;
    for (int i = 0; i < MOST_STEPS; i++) {
      double step = newtonStep(distribution, x, tail, lowerTail);
      if (step == 0) {
        break;
      }
      x += step;
      if (Math.abs(step) <= 1e-10 * Math.abs(x)) {
        return x;
      }
    }
    x =
        below
            ? distribution.inverseCumulativeProbability(p)
            : distribution.inverseSurvivalProbability(p);
    for (int i = 0; i < 3; i++) {
      double step = newtonStep(distribution, x, tail, lowerTail);
      boolean small = Math.abs(step) <= 1e-3 * Math.abs(x) || Math.abs(step) <= 1e-6;
      x += small ? step : 0;
    }
    return x;
  }

  /** 0 where the step would leave the support or be no finite number. */
  private static double newtonStep(
      ContinuousDistribution distribution, double x, double tail, boolean lowerTail) {
    double missing =
        lowerTail
            ? tail - distribution.cumulativeProbability(x)
            : distribution.survivalProbability(x) - tail;
    double step = missing / distribution.density(x);
    boolean inside =
        x + step > distribution.getSupportLowerBound()
            && x + step < distribution.getSupportUpperBound();
    return inside ? step : 0;
  }
}
