package lotproof.statistics.stability;

import java.util.function.DoubleUnaryOperator;
import lotproof.statistics.stability.StabilityCurve.Measure;
import lotproof.statistics.stability.StabilityCurve.NoiseType;

/**
 * The equivalent degrees of freedom of stability variances: those of the chi-square distribution
 * with the same relative variance.
 *
 * <p>edf = sz(0)² M / (sum of sz² over the overlaps), with sw the generalised autocovariance of
 * power law noise, sx that of its window averages and sz that of their second differences. The sums
 * are carried out in full, without the tables that shorten them.
 *
 * <p>Source: C. Greenhall and W. Riley, Uncertainty of Stability Variances Based on Finite
 * Differences, 35th PTTI Meeting 2003 (from memory; checked here by simulation).
 */
final class EquivalentDegreesOfFreedom {
  private EquivalentDegreesOfFreedom() {}

  static double of(Measure measure, NoiseType noise, int readings, int factor) {
    int points = readings + 1;
    int stride = measure.overlapping() ? factor : 1;
    double length = 1 + 2.0 * factor;
    int count = 1 + (int) Math.floor(stride * (points - length) / factor);
    int terms = Math.min(count, 3 * stride);
    // The running sum of readings is a sample, not a window average: for noise up to white its
    // covariance is that of an endlessly narrow window. Rougher noise needs the window.
    DoubleUnaryOperator covariance =
        noise.alpha() <= 0 ? t -> sw(t, noise.alpha() + 2) : t -> sx(t, factor, noise.alpha());
    double variance = square(sz(0, covariance));
    double sum = variance;
    for (int j = 1; j < terms; j++) {
      double share = 1 - (double) j / count;
      sum += 2 * share * square(sz((double) j / stride, covariance));
    }
    double last = sz((double) terms / stride, covariance);
    sum += (1 - (double) terms / count) * square(last);
    return Math.max(1, variance * count / sum);
  }

  private static double square(double value) {
    return value * value;
  }

  private static double sw(double t, int alpha) {
    double a = Math.abs(t);
    if (a == 0) {
      return 0;
    }
    return switch (alpha) {
      case 2 -> -a;
      case 1 -> a * a * Math.log(a);
      case 0 -> a * a * a;
      default -> throw new IllegalArgumentException("alpha must lie in 0..2, was " + alpha);
    };
  }

  private static double sx(double t, int window, int alpha) {
    double f = window;
    return f * f * (2 * sw(t, alpha) - sw(t - 1 / f, alpha) - sw(t + 1 / f, alpha));
  }

  private static double sz(double t, DoubleUnaryOperator covariance) {
    double zero = covariance.applyAsDouble(t);
    double one = covariance.applyAsDouble(t - 1) + covariance.applyAsDouble(t + 1);
    double two = covariance.applyAsDouble(t - 2) + covariance.applyAsDouble(t + 2);
    return 6 * zero - 4 * one + two;
  }
}
