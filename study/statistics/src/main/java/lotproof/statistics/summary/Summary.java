package lotproof.statistics.summary;

import java.util.Arrays;
import lotproof.statistics.Checks;
import lotproof.statistics.DistributionQuantiles;
import lotproof.statistics.Interval;
import org.apache.commons.numbers.gamma.LogGamma;

/**
 * The plain summary of one sample.
 *
 * <p>The mean is carried in two doubles and the standard deviation is formed from deviations about
 * it, so that data with many equal leading digits lose nothing that the doubles themselves hold: a
 * one-pass sum of squares would. Tested against the certified values of the NIST Statistical
 * Reference Datasets.
 *
 * @param n number of values, 2 or more
 * @param mean arithmetic mean
 * @param sd standard deviation with divisor n - 1
 * @param min smallest value
 * @param max largest value; neither is ever a limit for units not measured
 * @param median middle value, or the mean of the two middle ones
 */
public record Summary(int n, double mean, double sd, double min, double max, double median) {
  public Summary {
    Checks.atLeast(n, 2, "n");
    Checks.finite(mean, "mean");
    Checks.notNegative(sd, "sd");
    if (!(min <= median && median <= max)) {
      throw new IllegalArgumentException(
          "min, median and max must be in order, were " + min + ", " + median + ", " + max);
    }
  }

  /** The summary of two or more finite values. */
  public static Summary of(double[] values) {
    double[] y = Checks.sample(values, 2, "values");
    Deviations deviations = Deviations.of(y);
    double sd = Math.sqrt(deviations.sumOfSquares() / (y.length - 1));
    Arrays.sort(y);
    return new Summary(
        y.length, deviations.mean(), sd, y[0], y[y.length - 1], sortedQuantile(y, 0.5));
  }

  /** The arithmetic mean of one or more finite values. */
  public static double mean(double[] values) {
    return Deviations.of(Checks.sample(values, 1, "values")).mean();
  }

  /** The standard deviation, divisor n - 1, of two or more finite values. */
  public static double sd(double[] values) {
    return Math.sqrt(variance(values));
  }

  /** The variance, divisor n - 1, of two or more finite values. */
  public static double variance(double[] values) {
    double[] y = Checks.sample(values, 2, "values");
    return Deviations.of(y).sumOfSquares() / (y.length - 1);
  }

  /** The middle value, or the mean of the two middle ones. */
  public static double median(double[] values) {
    double[] y = Checks.sample(values, 1, "values");
    Arrays.sort(y);
    return sortedQuantile(y, 0.5);
  }

  private static double sortedQuantile(double[] sorted, double p) {
    return interpolate(sorted, QuantileRule.N_MINUS_ONE.position(sorted.length, p));
  }

  /**
   * The p quantile of the values by a rule. Positions beyond the ends give the extreme values: a
   * sample says nothing about quantiles outside it.
   */
  public static double quantile(double[] values, double p, QuantileRule rule) {
    double[] y = Checks.sample(values, 1, "values");
    if (!(p >= 0 && p <= 1)) {
      throw new IllegalArgumentException("p must lie in 0..1, was " + p);
    }
    Arrays.sort(y);
    return interpolate(y, rule.position(y.length, p));
  }

  private static double interpolate(double[] sorted, double position) {
    double bounded = Math.max(1, Math.min(sorted.length, position));
    int below = (int) Math.floor(bounded);
    double share = bounded - below;
    double low = sorted[below - 1];
    if (share == 0) {
      return low;
    }
    double high = sorted[below];
    return (1 - share) * low + share * high;
  }

  /**
   * The autocorrelation at a lag: the sum of products of deviations that far apart, over the full
   * sum of squares.
   *
   * @param values in the order of time, not all equal
   * @param lag 1 or more, below the number of values
   */
  public static double autocorrelation(double[] values, int lag) {
    double[] y = Checks.sample(values, 2, "values");
    if (lag < 1 || lag >= y.length) {
      throw new IllegalArgumentException("lag must lie in 1.." + (y.length - 1) + ", was " + lag);
    }
    return Deviations.of(y).autocorrelation(lag);
  }

  /** The confidence interval of the mean, by Student's t: for independent normal values. */
  public Interval meanInterval(double confidence) {
    double t = DistributionQuantiles.studentUpper(n - 1.0, (1 - confidence) / 2);
    double half = t * sd / Math.sqrt(n);
    return new Interval(mean - half, mean + half, confidence);
  }

  /** The confidence interval of the standard deviation, by chi-square: for normal values only. */
  public Interval sdInterval(double confidence) {
    return Interval.ofStandardDeviation(sd, n - 1.0, confidence);
  }

  /** Student's statistic of the mean against a reference value. */
  public double studentStatistic(double reference) {
    return (mean - reference) / (sd / Math.sqrt(n));
  }

  /**
   * c4: the expected standard deviation of n normal values with standard deviation 1, sqrt(2/(n-1))
   * Gamma(n/2) / Gamma((n-1)/2). Dividing a standard deviation by it removes its bias.
   */
  public static double c4(int n) {
    Checks.atLeast(n, 2, "n");
    return Math.sqrt(2.0 / (n - 1))
        * Math.exp(LogGamma.value(n / 2.0) - LogGamma.value((n - 1) / 2.0));
  }
}
