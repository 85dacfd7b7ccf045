package lotproof.statistics.summary;

import java.util.Arrays;
import lotproof.statistics.Checks;

/**
 * Measures of spread that a few bad values cannot move far, each scaled to equal the standard
 * deviation of a normal population.
 *
 * <p>They serve to look at data beside the standard deviation. They never replace it in a claim: a
 * unit that spreads the standard deviation and has no cause may reach a buyer.
 *
 * <p>Sources: P. J. Rousseeuw and C. Croux, Journal of the American Statistical Association 88
 * (1993) 1273-1283; C. Croux and P. J. Rousseeuw, Computational Statistics 1 (1992) 411-428 for the
 * small-sample factors, refined values as used by R's robustbase 0.95.0 (all from memory, checked
 * against its results).
 */
public final class RobustScale {
  private static final double[] QN_SMALL = {
    .399356, .99365, .51321, .84401, .61220, .85877, .66993, .87344, .72014, .88906, .75743
  };
  private static final double[] SN_SMALL = {.743, 1.851, .954, 1.351, .993, 1.198, 1.005, 1.131};

  private RobustScale() {}

  /** 1.4826 times the median distance from the median. */
  public static double mad(double[] values) {
    return 1.4826 * rawMad(values);
  }

  static double rawMad(double[] values) {
    double[] y = Checks.sample(values, 2, "values");
    double median = Summary.median(y);
    for (int i = 0; i < y.length; i++) {
      y[i] = Math.abs(y[i] - median);
    }
    return Summary.median(y);
  }

  /** The range between the quartiles, not scaled. */
  public static double interquartileRange(double[] values, QuantileRule rule) {
    return Summary.quantile(values, 0.75, rule) - Summary.quantile(values, 0.25, rule);
  }

  /**
   * Qn: 2.21914 times the k-th smallest distance between two values, k = h (h - 1)/2 with h = n/2 +
   * 1, with a small-sample factor. Withstands half of the values being bad and loses little (82 %
   * efficient) when none is.
   */
  public static double qn(double[] values) {
    double[] y = Checks.sample(values, 2, "values");
    int n = y.length;
    double[] distances = new double[n * (n - 1) / 2];
    int at = 0;
    for (int i = 1; i < n; i++) {
      for (int j = 0; j < i; j++) {
        distances[at++] = Math.abs(y[i] - y[j]);
      }
    }
    Arrays.sort(distances);
    int h = n / 2 + 1;
    double raw = 2.21914 * distances[h * (h - 1) / 2 - 1];
    if (n <= 12) {
      return raw * QN_SMALL[n - 2];
    }
    double m = n;
    double correction =
        n % 2 == 1
            ? 1.60188 + (-2.1284 - 5.172 / m) / m
            : 3.67561 + (1.9654 + (6.987 - 77 / m) / m) / m;
    return raw / (1 + correction / m);
  }

  /**
   * Sn: 1.1926 times the low median over i of the high median over j of |y(i) - y(j)|, with a
   * small-sample factor.
   */
  public static double sn(double[] values) {
    double[] y = Checks.sample(values, 2, "values");
    int n = y.length;
    double[] inner = new double[n];
    double[] outer = new double[n];
    for (int i = 0; i < n; i++) {
      for (int j = 0; j < n; j++) {
        inner[j] = Math.abs(y[i] - y[j]);
      }
      Arrays.sort(inner);
      outer[i] = inner[n / 2];
    }
    Arrays.sort(outer);
    double raw = 1.1926 * outer[(n + 1) / 2 - 1];
    if (n <= 9) {
      return raw * SN_SMALL[n - 2];
    }
    return n % 2 == 1 ? raw * n / (n - 0.9) : raw;
  }
}
