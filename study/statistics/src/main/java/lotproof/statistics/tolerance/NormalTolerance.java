package lotproof.statistics.tolerance;

import java.util.Arrays;
import java.util.function.DoubleUnaryOperator;
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
 * <p>Assumptions: m is normal about the true mean with standard deviation sigma / sqrt(n), s² /
 * sigma² is chi-square over its degrees of freedom nu, and the two are independent. For one random
 * sample of n values nu = n - 1. For several samples with a common standard deviation, n is the
 * size of the sample whose mean is used and nu the pooled degrees of freedom.
 *
 * <p>The factors are exact up to rounding (about 1e-11 relative): no approximation of Howe or of
 * Natrella stands in between. They guarantee the confidence for normal populations and for no
 * other; see {@link DistributionFree} for limits that need no shape. The chance that a limit holds
 * less than its content is integrated by the trapezoidal rule, which converges geometrically for
 * integrands that fall off fast on both sides.
 *
 * <p>Sources: ISO 16269-6:2014, Annexes A and F; K. Krishnamoorthy and T. Mathew, Statistical
 * Tolerance Regions, 2009, sections 2.2 and 2.3.
 */
public final class NormalTolerance {
  /** Ratio of the variances of k s and of the mean from which on the mean's is left out. */
  private static final double MEAN_COUNTS_NOTHING = 1e6;

  /** Weights below this share of the greatest are left out. */
  private static final double NEGLIGIBLE_LOG = -46;

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
    return oneSidedFactor(n, n - 1.0, content, confidence);
  }

  static double oneSidedFactor(double n, double nu, double content, double confidence) {
    double z = DistributionQuantiles.normal(Checks.fraction(content, "content"));
    Checks.fraction(confidence, "confidence");
    Spread spread = Spread.of(n, nu, z);
    return root(k -> 1 - confidence - spread.failure(n, z, k), z, n, nu);
  }

  /**
   * The content that mean + k s supports, as a standard normal quantile: the lower confidence bound
   * of (limit - true mean) / true standard deviation for a limit that lies k standard deviations
   * above the mean. It keeps its digits where the content itself is too near to 1 to be told from
   * it. For a limit so many standard deviations away that the uncertainty of the mean is below 1e-6
   * of that of k s, that of k s alone is taken, which is chi-square.
   *
   * @param n number of values behind the mean, above 0
   * @param nu degrees of freedom of the standard deviation, above 0
   * @param factor (limit - mean) / s
   */
  public static double oneSidedContentQuantile(
      double n, double nu, double factor, double confidence) {
    Checks.positive(n, "n");
    Checks.positive(nu, "nu");
    Checks.finite(factor, "factor");
    Checks.fraction(confidence, "confidence");
    if (n * factor * factor > MEAN_COUNTS_NOTHING * (1 + nu)) {
      double chiSquare =
          factor > 0
              ? DistributionQuantiles.chiSquare(nu, 1 - confidence)
              : DistributionQuantiles.chiSquareUpper(nu, 1 - confidence);
      return factor * Math.sqrt(chiSquare / nu);
    }
    UnivariateFunction excess = z -> confidence - 1 + Spread.of(n, nu, z).failure(n, z, factor);
    return root(excess, factor, n, nu);
  }

  /**
   * The two-sided factor of one sample: mean ± k s holds at least the content, wherever it lies.
   *
   * <p>k solves 2 sqrt(n) Integral over x from 0 of phi(sqrt(n) x) Pr(chi-square(nu) &gt;= nu r(x)²
   * / k²) dx = confidence, where r(x) solves Phi(x + r) - Phi(x - r) = content.
   *
   * @param n sample size, 2 or more
   * @param content fraction of the population to be held, in 0..1
   * @param confidence in 0..1
   */
  public static double twoSidedFactor(int n, double content, double confidence) {
    Checks.atLeast(n, 2, "n");
    return twoSidedFactor(n, n - 1.0, content, confidence);
  }

  static double twoSidedFactor(double n, double nu, double content, double confidence) {
    Checks.fraction(content, "content");
    Checks.fraction(confidence, "confidence");
    return new TwoSidedProblem(n, nu, content).factor(confidence);
  }

  /** The root of a growing function, from a point that may be far away. */
  private static double root(UnivariateFunction excess, double start, double n, double nu) {
    double reach = 1 / Math.sqrt(n) + Math.max(1, Math.abs(start)) / Math.sqrt(nu);
    double low = start;
    double high = start;
    for (double step = reach; excess.value(low) > 0; step *= 2) {
      low -= step;
    }
    for (double step = reach; excess.value(high) < 0; step *= 2) {
      high += step;
    }
    return low == high ? low : new BrentSolver(1e-14, 1e-14).solve(500, excess, low, high);
  }

  /**
   * The distribution of s / sigma = exp(w), in steps of w: the density is 1/sqrt(2 nu) wide, the
   * normal tail of the mean at least 1/(z sqrt(n) + 2). The weights are scaled to sum to one, which
   * spares the gamma function and its cancellation.
   *
   * @param nodes values of s / sigma
   */
  @SuppressWarnings("ArrayRecordComponent") // a bundle inside this class
  private record Spread(double[] nodes, double[] weights) {
    static Spread of(double n, double nu, double z) {
      double tail = Math.sqrt(n) * Math.abs(z) + 2;
      double step = Math.min(0.12, 0.5 / Math.sqrt(2 * nu + tail * tail));
      // the log density, less its value at the mode w = 0
      DoubleUnaryOperator log = w -> nu * (w - 0.5 * Math.expm1(2 * w));
      int below = 0;
      while (log.applyAsDouble(-(below + 1) * step) > NEGLIGIBLE_LOG) {
        below++;
      }
      int above = 0;
      while (log.applyAsDouble((above + 1) * step) > NEGLIGIBLE_LOG) {
        above++;
      }
      double[] nodes = new double[below + above + 1];
      double[] weights = new double[nodes.length];
      for (int i = 0; i < nodes.length; i++) {
        nodes[i] = Math.exp((i - below) * step);
        weights[i] = Math.exp(log.applyAsDouble((i - below) * step));
      }
      double total = Arrays.stream(weights).sum();
      Arrays.setAll(weights, i -> weights[i] / total);
      return new Spread(nodes, weights);
    }

    /** The chance that mean + k s lies below the content quantile z. */
    double failure(double n, double z, double k) {
      double rootN = Math.sqrt(n);
      double sum = 0;
      for (int i = 0; i < nodes.length; i++) {
        sum +=
            weights[i]
                * DistributionQuantiles.NORMAL.survivalProbability(rootN * (k * nodes[i] - z));
      }
      return sum;
    }
  }
}
