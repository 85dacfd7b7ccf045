package lotproof.statistics.shape;

import java.util.Arrays;
import lotproof.statistics.Checks;
import lotproof.statistics.DistributionQuantiles;
import lotproof.statistics.summary.Summary;
import org.apache.commons.statistics.distribution.NormalDistribution;

/**
 * The test of Shapiro and Wilk for normality, in Royston's approximation.
 *
 * <p>W = (sum a(i) (y(n+1-i) - y(i)))² / sum (y - mean)²: the squared correlation, nearly, of the
 * ordered values with the expected ones of a normal sample. Small W speaks against normality.
 *
 * <p>Like every test of normality it warns, and never switches the method of a claim.
 *
 * <p>Source: P. Royston, Applied Statistics 44 (1995) 547-551, algorithm AS R94; polynomial
 * coefficients as given there (from memory, checked against R 4.2.2 shapiro.test).
 *
 * @param n number of values, 3 to 5000
 * @param statistic W, up to 1
 * @param pValue the chance of so small a W under normality
 */
public record ShapiroWilk(int n, double statistic, double pValue) {
  private static final NormalDistribution NORMAL = NormalDistribution.of(0, 1);
  private static final double[] LAST = {0, .221157, -.147981, -2.07119, 4.434685, -2.706056};
  private static final double[] NEXT_TO_LAST = {
    0, .042981, -.293762, -1.752461, 5.682633, -3.582633
  };
  private static final double[] SMALL_MEAN = {.544, -.39978, .025054, -6.714e-4};
  private static final double[] SMALL_LOG_SD = {1.3822, -.77857, .062767, -.0020322};
  private static final double[] LARGE_MEAN = {-1.5861, -.31082, -.083751, .0038915};
  private static final double[] LARGE_LOG_SD = {-.4803, -.082676, .0030302};

  /** The test of 3 to 5000 values that are not all equal. */
  public static ShapiroWilk test(double[] values) {
    double[] y = Checks.sample(values, 3, "values");
    int n = y.length;
    if (n > 5000) {
      throw new IllegalArgumentException("values must hold at most 5000 values, held " + n);
    }
    Arrays.sort(y);
    double sumOfSquares = Summary.variance(y) * (n - 1);
    if (!(sumOfSquares > 0)) {
      throw new IllegalArgumentException("values must not all be equal");
    }
    double[] weight = weights(n);
    double sum = 0;
    for (int i = 0; i < weight.length; i++) {
      sum += weight[i] * (y[n - 1 - i] - y[i]);
    }
    double w = Math.min(1, sum * sum / sumOfSquares);
    return new ShapiroWilk(n, w, pValue(w, n));
  }

  /** The weights of the pairs of values, from the outermost pair inwards. */
  private static double[] weights(int n) {
    int half = n / 2;
    double[] weight = new double[half];
    if (n == 3) {
      weight[0] = Math.sqrt(0.5);
      return weight;
    }
    double squares = 0;
    for (int i = 0; i < half; i++) {
      weight[i] = -DistributionQuantiles.normal((i + 1 - 0.375) / (n + 0.25));
      squares += 2 * weight[i] * weight[i];
    }
    double length = Math.sqrt(squares);
    double root = 1 / Math.sqrt(n);
    double last = polynomial(LAST, root) + weight[0] / length;
    double left = squares - 2 * weight[0] * weight[0];
    double right = 1 - 2 * last * last;
    int first = 1;
    double nextToLast = 0;
    if (n > 5) {
      nextToLast = polynomial(NEXT_TO_LAST, root) + weight[1] / length;
      left -= 2 * weight[1] * weight[1];
      right -= 2 * nextToLast * nextToLast;
      first = 2;
    }
    double scale = Math.sqrt(right / left);
    for (int i = first; i < half; i++) {
      weight[i] *= scale;
    }
    weight[0] = last;
    if (n > 5) {
      weight[1] = nextToLast;
    }
    return weight;
  }

  private static double pValue(double w, int n) {
    if (n == 3) {
      double p = 6 / Math.PI * (Math.asin(Math.sqrt(w)) - Math.PI / 3);
      return Math.max(0, p);
    }
    double y = Math.log1p(-w);
    double logN = Math.log(n);
    if (n <= 11) {
      double bound = -2.273 + 0.459 * n;
      if (y >= bound) {
        return 0;
      }
      double z =
          (-Math.log(bound - y) - polynomial(SMALL_MEAN, n))
              / Math.exp(polynomial(SMALL_LOG_SD, n));
      return NORMAL.survivalProbability(z);
    }
    double z = (y - polynomial(LARGE_MEAN, logN)) / Math.exp(polynomial(LARGE_LOG_SD, logN));
    return NORMAL.survivalProbability(z);
  }

  private static double polynomial(double[] coefficients, double x) {
    double value = 0;
    for (int i = coefficients.length - 1; i >= 0; i--) {
      value = value * x + coefficients[i];
    }
    return value;
  }
}
