package lotproof.statistics.tolerance;

import lotproof.statistics.DistributionQuantiles;
import org.apache.commons.statistics.distribution.NormalDistribution;

/**
 * The chance that a one-sided normal tolerance limit holds less than its content, and the factor
 * for a wanted chance.
 *
 * <p>Failure(k) = Integral of g(s) Pr(Z &gt; sqrt(N) (k s - z)) ds, where g is the density of s /
 * sigma and z the normal quantile of the content. With s = exp(w) the integrand is analytic and
 * falls off fast on both sides, so the trapezoidal rule converges geometrically, for one degree of
 * freedom as for a million. The weights are scaled to sum to one, which spares the gamma function
 * and its cancellation. This is the non-central t distribution with nu degrees of freedom and
 * non-centrality z sqrt(N), written so that no tail is found by subtraction.
 */
final class OneSidedProblem {
  private static final NormalDistribution NORMAL = NormalDistribution.of(0, 1);

  /** Weights below this share of the greatest are left out. */
  private static final double NEGLIGIBLE_LOG = -46;

  private final double rootN;
  private final double degreesOfFreedom;
  private final double contentQuantile;
  private final double[] ratio;
  private final double[] weight;

  OneSidedProblem(double effectiveN, double degreesOfFreedom, double contentQuantile) {
    this.rootN = Math.sqrt(effectiveN);
    this.degreesOfFreedom = degreesOfFreedom;
    this.contentQuantile = contentQuantile;
    // The density g is 1/sqrt(2 nu) wide and the normal tail 1/(z sqrt(N)); the rule must see both.
    double sharpness =
        2 * degreesOfFreedom + effectiveN * Math.max(1, contentQuantile * contentQuantile);
    double step = Math.min(0.12, 0.5 / Math.sqrt(sharpness));
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

  /** The chance that mean + k s lies below the content quantile. */
  double failure(double factor) {
    double sum = 0;
    for (int i = 0; i < ratio.length; i++) {
      sum += weight[i] * NORMAL.survivalProbability(margin(i, factor));
    }
    return sum;
  }

  private double success(double factor) {
    double sum = 0;
    for (int i = 0; i < ratio.length; i++) {
      sum += weight[i] * NORMAL.cumulativeProbability(margin(i, factor));
    }
    return sum;
  }

  private double margin(int i, double factor) {
    return rootN * (factor * ratio[i] - contentQuantile);
  }

  /** The derivative of the success with respect to the factor. */
  private double slope(double factor) {
    double sum = 0;
    for (int i = 0; i < ratio.length; i++) {
      sum += weight[i] * rootN * ratio[i] * NORMAL.density(margin(i, factor));
    }
    return sum;
  }

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
}
