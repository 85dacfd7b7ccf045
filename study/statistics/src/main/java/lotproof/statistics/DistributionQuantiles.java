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
 * of 1e-9, which is coarse for quantiles near zero. Each quantile here takes that result as a start
 * and finishes it with Newton steps on whichever tail is the smaller, so that neither tail loses
 * digits.
 *
 * <p>Every method comes in two forms: by the probability below, and by the probability above the
 * quantile. Use the second for upper quantiles: 1 - p loses digits when p is close to 1.
 */
public final class DistributionQuantiles {
  private static final NormalDistribution NORMAL = NormalDistribution.of(0, 1);

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
    return lower(chiSquareDistribution(degreesOfFreedom), below);
  }

  /** The chi-square quantile with probability {@code above} over it. */
  public static double chiSquareUpper(double degreesOfFreedom, double above) {
    return upper(chiSquareDistribution(degreesOfFreedom), above);
  }

  /** Student's t quantile with probability {@code below} beneath it. */
  public static double student(double degreesOfFreedom, double below) {
    return lower(studentDistribution(degreesOfFreedom), below);
  }

  /** Student's t quantile with probability {@code above} over it. */
  public static double studentUpper(double degreesOfFreedom, double above) {
    return upper(studentDistribution(degreesOfFreedom), above);
  }

  /** The quantile of a variance ratio (F) with probability {@code below} beneath it. */
  public static double fisher(double numeratorDf, double denominatorDf, double below) {
    return lower(fisherDistribution(numeratorDf, denominatorDf), below);
  }

  /** The quantile of a variance ratio (F) with probability {@code above} over it. */
  public static double fisherUpper(double numeratorDf, double denominatorDf, double above) {
    return upper(fisherDistribution(numeratorDf, denominatorDf), above);
  }

  /** The beta quantile with probability {@code below} beneath it. */
  public static double beta(double alpha, double beta, double below) {
    return lower(
        BetaDistribution.of(Checks.positive(alpha, "alpha"), Checks.positive(beta, "beta")), below);
  }

  private static ContinuousDistribution chiSquareDistribution(double degreesOfFreedom) {
    return ChiSquaredDistribution.of(Checks.positive(degreesOfFreedom, "degreesOfFreedom"));
  }

  private static ContinuousDistribution studentDistribution(double degreesOfFreedom) {
    return TDistribution.of(Checks.positive(degreesOfFreedom, "degreesOfFreedom"));
  }

  private static ContinuousDistribution fisherDistribution(double numeratorDf, double denomDf) {
    return FDistribution.of(
        Checks.positive(numeratorDf, "numeratorDf"), Checks.positive(denomDf, "denominatorDf"));
  }

  private static double lower(ContinuousDistribution distribution, double below) {
    Checks.fraction(below, "below");
    double start = distribution.inverseCumulativeProbability(below);
    return below <= 0.5
        ? polishLower(distribution, start, below)
        : polishUpper(distribution, start, 1 - below);
  }

  private static double upper(ContinuousDistribution distribution, double above) {
    Checks.fraction(above, "above");
    double start = distribution.inverseSurvivalProbability(above);
    return above <= 0.5
        ? polishUpper(distribution, start, above)
        : polishLower(distribution, start, 1 - above);
  }

  private static double polishLower(ContinuousDistribution distribution, double start, double p) {
    double x = start;
    for (int i = 0; i < 3; i++) {
      x = step(distribution, x, p - distribution.cumulativeProbability(x));
    }
    return x;
  }

  private static double polishUpper(ContinuousDistribution distribution, double start, double q) {
    double x = start;
    for (int i = 0; i < 3; i++) {
      x = step(distribution, x, distribution.survivalProbability(x) - q);
    }
    return x;
  }

  /** One Newton step, left out where it would leave the support or be no finite number. */
  private static double step(ContinuousDistribution distribution, double x, double missing) {
    double next = x + missing / distribution.density(x);
    boolean inside =
        next > distribution.getSupportLowerBound() && next < distribution.getSupportUpperBound();
    boolean small = Math.abs(next - x) <= 1e-3 * Math.abs(x) || Math.abs(next - x) <= 1e-6;
    return inside && small ? next : x;
  }
}
