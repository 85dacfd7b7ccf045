package lotproof.statistics.stability;

import java.util.function.DoubleUnaryOperator;

/**
 * The equivalent degrees of freedom of stability variances: those of the chi-square distribution
 * with the same relative variance.
 *
 * <p>edf = sz(0)² M / (sum of sz² over the overlaps), with sw the generalised autocovariance of
 * power law noise, sx that of its window averages and sz that of their differences of order d. The
 * sums are carried out in full, without the tables that shorten them.
 *
 * <p>Source: C. Greenhall and W. Riley, Uncertainty of Stability Variances Based on Finite
 * Differences, 35th PTTI Meeting 2003 (from memory; checked here by simulation). For the total
 * deviation: SP 1065, 5.4.5, edf = b T/tau - c with (1.5, 0), (1.168, 0.222), (0.927, 0.358) for
 * white, flicker and random walk (from memory); other noise takes the overlapping form.
 */
final class EquivalentDegreesOfFreedom {
  private EquivalentDegreesOfFreedom() {}

  static double of(StabilityMeasure measure, NoiseType noise, int readings, int factor) {
    if (measure == StabilityMeasure.TOTAL && noise.alpha() <= 0) {
      double ratio = readings / (double) factor;
      return Math.max(
          1,
          switch (noise) {
            case FLICKER -> 1.168 * ratio - 0.222;
            case RANDOM_WALK -> 0.927 * ratio - 0.358;
            default -> 1.5 * ratio;
          });
    }
    int points = readings + 1;
    int order = measure.order();
    int stride = measure.overlapping() ? factor : 1;
    // With one reading the modified form is the plain one.
    int window = measure.modified() ? 1 : factor;
    boolean sampled = !measure.modified() || factor == 1;
    double length = (double) factor / window + (double) factor * order;
    int count = 1 + (int) Math.floor(stride * (points - length) / factor);
    int terms = Math.min(count, (order + 1) * stride);
    // The running sum of readings is a sample, not a window average: for noise up to white its
    // covariance is that of an endlessly narrow window. Rougher noise needs the window.
    DoubleUnaryOperator covariance =
        sampled && noise.alpha() <= 0
            ? t -> sw(t, noise.alpha() + 2)
            : t -> sx(t, window, noise.alpha());
    double variance = square(sz(0, covariance, order));
    double sum = variance;
    for (int j = 1; j < terms; j++) {
      double share = 1 - (double) j / count;
      sum += 2 * share * square(sz((double) j / stride, covariance, order));
    }
    double last = sz((double) terms / stride, covariance, order);
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
      case -1 -> -Math.pow(a, 4) * Math.log(a);
      case -2 -> -Math.pow(a, 5);
      default -> throw new IllegalArgumentException("alpha must lie in -2..2, was " + alpha);
    };
  }

  private static double sx(double t, int window, int alpha) {
    double f = window;
    return f * f * (2 * sw(t, alpha) - sw(t - 1 / f, alpha) - sw(t + 1 / f, alpha));
  }

  private static double sz(double t, DoubleUnaryOperator covariance, int order) {
    double zero = covariance.applyAsDouble(t);
    double one = covariance.applyAsDouble(t - 1) + covariance.applyAsDouble(t + 1);
    double two = covariance.applyAsDouble(t - 2) + covariance.applyAsDouble(t + 2);
    if (order == 2) {
      return 6 * zero - 4 * one + two;
    }
    double three = covariance.applyAsDouble(t - 3) + covariance.applyAsDouble(t + 3);
    return 20 * zero - 15 * one + 6 * two - three;
  }
}
