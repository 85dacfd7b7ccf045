package lotproof.statistics.tolerance;

import java.util.function.DoubleUnaryOperator;
import lotproof.statistics.DistributionQuantiles;
import org.apache.commons.statistics.distribution.ChiSquaredDistribution;

/**
 * The chance that a one-sided normal tolerance limit holds less than its content, and the factor
 * for a wanted chance.
 *
 * <p>Success(k) = Pr(Z / sqrt(N) + k S &gt;= z) with a standard normal Z, S the root of a
 * chi-square over its degrees of freedom and z the normal quantile of the content: the non-central
 * t distribution with nu degrees of freedom and non-centrality z sqrt(N). It is integrated over the
 * spread S, or over the mean Z where that is known so much better that the spread's integrand would
 * have a step.
 */
abstract class OneSidedProblem {
  final double rootN;
  final double degreesOfFreedom;
  final double contentQuantile;

  private OneSidedProblem(double rootN, double degreesOfFreedom, double contentQuantile) {
    this.rootN = rootN;
    this.degreesOfFreedom = degreesOfFreedom;
    this.contentQuantile = contentQuantile;
  }

  static OneSidedProblem of(double effectiveN, double degreesOfFreedom, double contentQuantile) {
    double rootN = Math.sqrt(effectiveN);
    boolean meanFarBetterKnown =
        rootN * Math.abs(contentQuantile) > 9.5 && effectiveN > 50 * degreesOfFreedom;
    return meanFarBetterKnown
        ? new OverTheMean(rootN, degreesOfFreedom, contentQuantile)
        : new OverTheSpread(rootN, degreesOfFreedom, contentQuantile);
  }

  /** The chance that mean + k s lies below the content quantile. */
  abstract double failure(double factor);

  /** The chance that mean + k s lies at or above the content quantile. */
  abstract double success(double factor);

  /** The derivative of the success by the factor. */
  abstract double slope(double factor);

  /** The factor whose success equals the confidence: bracketed Newton on the smaller tail. */
  double factor(double confidence) {
    boolean upper = confidence > 0.5;
    double wantedLog = Math.log(upper ? 1 - confidence : confidence);
    double k = start(confidence);
    double lower = Double.NEGATIVE_INFINITY;
    double higher = Double.POSITIVE_INFINITY;
    for (int i = 0; i < 200; i++) {
      double tail = upper ? failure(k) : success(k);
      double missing = upper ? Math.log(tail) - wantedLog : wantedLog - Math.log(tail);
      if (missing > 0) {
        lower = k;
      } else {
        higher = k;
      }
      double step = missing * tail / slope(k);
      double next = inside(k + step, k, lower, higher);
      if (Math.abs(next - k) <= 1e-14 * Math.abs(k) + 1e-300 || lower == higher) {
        return next;
      }
      // Newton has converged quadratically: the step after one of 1e-9 lies below the last digit.
      if (Math.abs(next - k) <= 1e-9 * Math.abs(k) && next == k + step) {
        return next;
      }
      k = next;
    }
    return k;
  }

  private static double inside(double next, double k, double lower, double higher) {
    if (next > lower && next < higher) {
      double reach = 4 * Math.max(1, Math.abs(k));
      return Math.max(k - reach, Math.min(k + reach, next));
    }
    if (Double.isInfinite(lower)) {
      return k - 2 * Math.max(1, Math.abs(k));
    }
    if (Double.isInfinite(higher)) {
      return k + 2 * Math.max(1, Math.abs(k));
    }
    return 0.5 * (lower + higher);
  }

  /** Natrella's closed form where it exists, else the content quantile itself. */
  private double start(double confidence) {
    double zc = DistributionQuantiles.normal(confidence);
    double a = 1 - zc * zc / (2 * degreesOfFreedom);
    double n = rootN * rootN;
    double b = contentQuantile * contentQuantile - zc * zc / n;
    double discriminant = contentQuantile * contentQuantile - a * b;
    if (a > 0.1 && discriminant >= 0) {
      return (contentQuantile + Math.copySign(Math.sqrt(discriminant), zc)) / a;
    }
    return contentQuantile + zc / rootN;
  }

  /**
   * Failure(k) = Integral of g(s) Pr(Z &gt; sqrt(N) (k s - z)) ds, where g is the density of s /
   * sigma.
   *
   * <p>With s = exp(w) the integrand is analytic and falls off fast on both sides, so the
   * trapezoidal rule converges geometrically, for one degree of freedom as for a million. The
   * weights are scaled to sum to one, which spares the gamma function and its cancellation. No tail
   * is found by subtraction.
   */
  static final class OverTheSpread extends OneSidedProblem {
    /** Weights below this share of the greatest are left out. */
    private static final double NEGLIGIBLE_LOG = -46;

    private final double[] ratio;
    private final double[] weight;

    OverTheSpread(double rootN, double degreesOfFreedom, double contentQuantile) {
      super(rootN, degreesOfFreedom, contentQuantile);
      // The density g is 1/sqrt(2 nu) wide in w, and the normal tail at least 1/(z sqrt(N) + 2).
      double tail = rootN * Math.abs(contentQuantile) + 2;
      double step = Math.min(0.12, 0.5 / Math.sqrt(2 * degreesOfFreedom + tail * tail));
      int below = 0;
      while (logWeight(-(below + 1) * step) > NEGLIGIBLE_LOG) {
        below++;
      }
      int above = 0;
      while (logWeight((above + 1) * step) > NEGLIGIBLE_LOG) {
        above++;
      }
      this.ratio = new double[below + above + 1];
      this.weight = new double[ratio.length];
      double sum = 0;
      for (int i = 0; i < ratio.length; i++) {
        double w = (i - below) * step;
        ratio[i] = Math.exp(w);
        weight[i] = Math.exp(logWeight(w));
        sum += weight[i];
      }
      for (int i = 0; i < weight.length; i++) {
        weight[i] /= sum;
      }
    }

    /** The log density of ln(s / sigma), less its value at the mode w = 0. */
    private double logWeight(double w) {
      return degreesOfFreedom * (w - 0.5 * Math.expm1(2 * w));
    }

    private double margin(int i, double factor) {
      return rootN * (factor * ratio[i] - contentQuantile);
    }

    @Override
    double failure(double factor) {
      double sum = 0;
      for (int i = 0; i < ratio.length; i++) {
        sum += weight[i] * DistributionQuantiles.NORMAL.survivalProbability(margin(i, factor));
      }
      return sum;
    }

    @Override
    double success(double factor) {
      double sum = 0;
      for (int i = 0; i < ratio.length; i++) {
        sum += weight[i] * DistributionQuantiles.NORMAL.cumulativeProbability(margin(i, factor));
      }
      return sum;
    }

    @Override
    double slope(double factor) {
      double sum = 0;
      for (int i = 0; i < ratio.length; i++) {
        sum +=
            weight[i] * rootN * ratio[i] * DistributionQuantiles.NORMAL.density(margin(i, factor));
      }
      return sum;
    }
  }

  /**
   * Failure(k) = Integral of phi(x) Pr(chi-square(nu) &lt; nu (z + x / sqrt(N))² / k²) dx for z and
   * k above zero, by the trapezoidal rule; for both below zero the same integral is the success.
   *
   * <p>Only for |z| sqrt(N) above 9.5, so that z + x / sqrt(N) keeps the sign of z, and for N far
   * above nu, so that the integrand is flat in x. With k on the other side of zero than z the limit
   * fails or holds but for a chance below 1e-20.
   */
  static final class OverTheMean extends OneSidedProblem {
    private static final double REACH = 9;
    private static final double STEP = 0.5;
    private static final double ROOT_TWO_PI = Math.sqrt(2 * Math.PI);

    private final ChiSquaredDistribution chiSquare;

    OverTheMean(double rootN, double degreesOfFreedom, double contentQuantile) {
      super(rootN, degreesOfFreedom, contentQuantile);
      this.chiSquare = ChiSquaredDistribution.of(degreesOfFreedom);
    }

    private double average(double factor, DoubleUnaryOperator term) {
      double sum = 0;
      for (double x = -REACH; x <= REACH; x += STEP) {
        double ratio = (contentQuantile + x / rootN) / factor;
        double weight = STEP * Math.exp(-0.5 * x * x) / ROOT_TWO_PI;
        sum += weight * term.applyAsDouble(degreesOfFreedom * ratio * ratio);
      }
      return sum;
    }

    private boolean opposite(double factor) {
      return factor == 0 || Math.signum(factor) != Math.signum(contentQuantile);
    }

    @Override
    double failure(double factor) {
      if (opposite(factor)) {
        return contentQuantile > 0 ? 1 : 0;
      }
      return contentQuantile > 0
          ? average(factor, chiSquare::cumulativeProbability)
          : average(factor, chiSquare::survivalProbability);
    }

    @Override
    double success(double factor) {
      if (opposite(factor)) {
        return contentQuantile > 0 ? 0 : 1;
      }
      return contentQuantile > 0
          ? average(factor, chiSquare::survivalProbability)
          : average(factor, chiSquare::cumulativeProbability);
    }

    @Override
    double slope(double factor) {
      if (opposite(factor)) {
        return 0;
      }
      return average(factor, q -> 2 * q * chiSquare.density(q)) / Math.abs(factor);
    }
  }
}
