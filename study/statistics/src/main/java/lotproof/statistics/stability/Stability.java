package lotproof.statistics.stability;

import lotproof.statistics.Checks;
import lotproof.statistics.stability.StabilityCurve.Measure;
import lotproof.statistics.stability.StabilityCurve.NoiseType;
import lotproof.statistics.summary.Summary;

/**
 * Stability of readings taken at equal steps, by the family of Allan deviations.
 *
 * <p>The ordinary standard deviation of a drifting signal depends on how long one looks. These
 * deviations compare neighbouring averages of m readings instead and so show at which averaging
 * time noise stops falling and drift begins.
 *
 * <p>Source: W. J. Riley, Handbook of Frequency Stability Analysis, NIST SP 1065 (2008), chapter 5.
 */
final class Stability {
  private Stability() {}

  /**
   * The deviation of one measure at an averaging factor.
   *
   * @param measure which one
   * @param readings three or more, at equal steps
   * @param factor m, the number of readings averaged; at most {@link Measure#largestFactor(int)}
   */
  public static double deviation(Measure measure, double[] readings, int factor) {
    double[] y = Checks.sample(readings, 3, "readings");
    int largest = measure.largestFactor(y.length);
    if (factor < 1 || factor > largest) {
      throw new IllegalArgumentException("factor must lie in 1.." + largest + ", was " + factor);
    }
    double[] x = runningSum(y);
    double m = factor;
    int stride = measure.overlapping() ? 1 : factor;
    return Math.sqrt(meanSquare(x, factor, stride) / (2 * m * m));
  }

  /**
   * Sums of the readings less their mean: no measure feels a constant, and rounding stays small.
   */
  private static double[] runningSum(double[] y) {
    double mean = Summary.mean(y);
    double[] x = new double[y.length + 1];
    double rest = 0;
    for (int i = 0; i < y.length; i++) {
      double add = y[i] - mean - rest;
      x[i + 1] = x[i] + add;
      rest = (x[i + 1] - x[i]) - add;
    }
    return x;
  }

  private static double meanSquare(double[] x, int m, int stride) {
    double sum = 0;
    int count = 0;
    for (int i = 0; i + 2 * m < x.length; i += stride) {
      double d = x[i + 2 * m] - 2 * x[i + m] + x[i];
      sum += d * d;
      count++;
    }
    return sum / count;
  }

  /**
   * The kind of noise at an averaging factor, from the lag-1 autocorrelation of the averages: r is
   * that of the series, differenced until r/(1 + r) lies below 1/4; alpha = -2 (r/(1 + r) + number
   * of differences).
   *
   * <p>Needs thirty averages to tell the kinds apart. Source: Riley, as above, 5.5.6; W. Riley and
   * C. Greenhall, European Frequency and Time Forum 2004 (from memory).
   *
   * @param readings at equal steps
   * @param factor number of readings averaged, with at least ten averages
   */
  public static NoiseType noiseType(double[] readings, int factor) {
    Checks.atLeast(factor, 1, "factor");
    double[] y = Checks.sample(readings, 10 * factor, "readings");
    double[] series = new double[y.length / factor];
    for (int i = 0; i < series.length; i++) {
      double sum = 0;
      for (int j = 0; j < factor; j++) {
        sum += y[i * factor + j];
      }
      series[i] = sum / factor;
    }
    for (int differences = 0; ; differences++) {
      if (!(Summary.variance(series) > 0)) {
        return NoiseType.nearest(-2.0 * differences);
      }
      double r = Summary.autocorrelation(series, 1);
      double delta = r / (1 + r);
      if (delta < 0.25 || differences == 2) {
        return NoiseType.nearest(-2 * (delta + differences));
      }
      double[] next = new double[series.length - 1];
      for (int i = 0; i < next.length; i++) {
        next[i] = series[i + 1] - series[i];
      }
      series = next;
    }
  }
}
