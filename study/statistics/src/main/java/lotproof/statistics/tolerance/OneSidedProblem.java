package lotproof.statistics.tolerance;

import lotproof.statistics.DistributionQuantiles;

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
final class OneSidedProblem {
  private final double rootN;
  private final double degreesOfFreedom;
  private final double contentQuantile;
  private final OneSidedRule rule;

  OneSidedProblem(double effectiveN, double degreesOfFreedom, double contentQuantile) {
    this.rootN = Math.sqrt(effectiveN);
    this.degreesOfFreedom = degreesOfFreedom;
    this.contentQuantile = contentQuantile;
    boolean meanFarBetterKnown =
        rootN * Math.abs(contentQuantile) > 9.5 && effectiveN > 50 * degreesOfFreedom;
    this.rule =
        meanFarBetterKnown
            ? new OverTheMean(rootN, degreesOfFreedom, contentQuantile)
            : new OverTheSpread(rootN, degreesOfFreedom, contentQuantile);
  }

  /** The chance that mean + k s lies below the content quantile. */
  double failure(double factor) {
    return rule.failure(factor);
  }

  /** The factor whose success equals the confidence: bracketed Newton on the smaller tail. */
  double factor(double confidence) {
    boolean upper = confidence > 0.5;
    double wantedLog = Math.log(upper ? 1 - confidence : confidence);
    double k = start(confidence);
    double lower = Double.NEGATIVE_INFINITY;
    double higher = Double.POSITIVE_INFINITY;
    for (int i = 0; i < 200; i++) {
      double tail = upper ? rule.failure(k) : rule.success(k);
      double missing = upper ? Math.log(tail) - wantedLog : wantedLog - Math.log(tail);
      if (missing > 0) {
        lower = k;
      } else {
        higher = k;
      }
      double step = missing * tail / rule.slope(k);
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
