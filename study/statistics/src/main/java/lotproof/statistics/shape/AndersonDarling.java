package lotproof.statistics.shape;

import java.util.Arrays;
import lotproof.statistics.Checks;
import lotproof.statistics.summary.Summary;
import org.apache.commons.statistics.distribution.NormalDistribution;

/**
 * The test of Anderson and Darling for normality, mean and standard deviation estimated.
 *
 * <p>A² = -n - (1/n) sum (2i - 1) (ln F(y(i)) + ln(1 - F(y(n+1-i)))). It weighs the tails, which is
 * where a claim lives. The probability value is the approximation of D'Agostino and Stephens, on A²
 * (1 + 0.75/n + 2.25/n²).
 *
 * <p>A test of normality warns; it never switches the method of a claim: chosen by the data, the
 * method loses its confidence.
 *
 * <p>Source: R. B. D'Agostino and M. A. Stephens, Goodness-of-Fit Techniques, 1986, Table 4.9.
 * Beware of other multipliers in print: some handbooks use 1 + 4/n - 25/n² with a critical value of
 * its own.
 *
 * @param n number of values, 8 or more
 * @param statistic A²
 * @param adjusted A² (1 + 0.75/n + 2.25/n²); 0.752 is its 5 % point
 * @param pValue the chance of so large an A² under normality; 3.7e-24 stands for "at most"
 */
public record AndersonDarling(int n, double statistic, double adjusted, double pValue) {
  private static final NormalDistribution NORMAL = NormalDistribution.of(0, 1);
  private static final double LOG_ROOT_TWO_PI = 0.5 * Math.log(2 * Math.PI);

  /** The test of eight or more values that are not all equal. */
  public static AndersonDarling test(double[] values) {
    double[] y = Checks.sample(values, 8, "values");
    Arrays.sort(y);
    int n = y.length;
    double mean = Summary.mean(y);
    double sd = Summary.sd(y);
    if (!(sd > 0)) {
      throw new IllegalArgumentException("values must not all be equal");
    }
    double sum = 0;
    for (int i = 0; i < n; i++) {
      double below = logLower((y[i] - mean) / sd);
      double above = logLower(-(y[n - 1 - i] - mean) / sd);
      sum += (2 * i + 1) * (below + above);
    }
    double statistic = -n - sum / n;
    double adjusted = statistic * (1 + 0.75 / n + 2.25 / ((double) n * n));
    return new AndersonDarling(n, statistic, adjusted, pValue(adjusted));
  }

  /** ln Phi(z), by its asymptotic series where Phi(z) itself would vanish. */
  private static double logLower(double z) {
    if (z > -35) {
      return z < 0
          ? Math.log(NORMAL.cumulativeProbability(z))
          : Math.log1p(-NORMAL.survivalProbability(z));
    }
    double s = 1 / (z * z);
    return -0.5 * z * z - LOG_ROOT_TWO_PI - Math.log(-z) + Math.log1p(-s * (1 - 3 * s));
  }

  private static double pValue(double a) {
    if (a < 0.2) {
      return -Math.expm1(-13.436 + 101.14 * a - 223.73 * a * a);
    }
    if (a < 0.34) {
      return -Math.expm1(-8.318 + 42.796 * a - 59.938 * a * a);
    }
    if (a < 0.6) {
      return Math.exp(0.9177 - 4.279 * a - 1.38 * a * a);
    }
    if (a < 10) {
      return Math.exp(1.2937 - 5.709 * a + 0.0186 * a * a);
    }
    return 3.7e-24;
  }
}
