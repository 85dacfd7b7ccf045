package lotproof.statistics.summary;

import java.math.BigDecimal;
import java.math.BigInteger;
import java.math.MathContext;
import java.util.Arrays;
import java.util.List;
import lotproof.statistics.Checks;

/**
 * The plain summary of one sample.
 *
 * <p>The mean is carried in two doubles and the standard deviation is formed from deviations about
 * it, so that data with many equal leading digits lose nothing that the doubles themselves hold: a
 * one-pass sum of squares would. Tested against the certified values of the NIST Statistical
 * Reference Datasets.
 */
public final class Summary {
  private static final MathContext TEN_DIGITS = new MathContext(10);

  private Summary() {}

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

  /**
   * The step that values come in: the greatest common divisor of their distances, each value
   * rounded to ten digits, where there are ten different ones or each stands there twice on
   * average; of others, which can lie on a grid by chance, the last digit.
   *
   * @return 0 where all are equal
   */
  public static double step(double[] values) {
    double[] y = Checks.sample(values, 1, "values");
    List<BigDecimal> different =
        Arrays.stream(y)
            .mapToObj(v -> new BigDecimal(v).round(TEN_DIGITS).stripTrailingZeros())
            .distinct()
            .toList();
    int decimals = different.stream().mapToInt(BigDecimal::scale).max().orElse(0);
    BigInteger divisor =
        different.stream()
            .map(v -> v.subtract(different.get(0)).setScale(decimals).unscaledValue())
            .reduce(BigInteger.ZERO, BigInteger::gcd);
    boolean telling = different.size() >= 10 || 2 * different.size() <= y.length;
    BigInteger steps = telling ? divisor : divisor.min(BigInteger.ONE);
    return new BigDecimal(steps, decimals).doubleValue();
  }

  /** The middle value, or the mean of the two middle ones. */
  public static double median(double[] values) {
    double[] y = Checks.sample(values, 1, "values");
    Arrays.sort(y);
    int above = y.length / 2;
    return y.length % 2 == 1 ? y[above] : 0.5 * y[above - 1] + 0.5 * y[above];
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

  /** The deviations of values from their mean, with the mean carried in two doubles. */
  @SuppressWarnings("ArrayRecordComponent") // a bundle inside this class
  private record Deviations(double mean, double[] deviation) {
    static Deviations of(double[] values) {
      double high = 0;
      double low = 0;
      for (double value : values) {
        // The exact error of a sum of two doubles (Knuth's two-sum).
        double sum = high + value;
        double part = sum - high;
        low += (high - (sum - part)) + (value - part);
        high = sum;
      }
      int n = values.length;
      double mean = (high + low) / n;
      double rest = (Math.fma(-mean, n, high) + low) / n;
      double[] deviation = new double[n];
      for (int i = 0; i < n; i++) {
        deviation[i] = (values[i] - mean) - rest;
      }
      return new Deviations(mean, deviation);
    }

    double sumOfSquares() {
      double squares = 0;
      double sum = 0;
      for (double d : deviation) {
        squares += d * d;
        sum += d;
      }
      return Math.max(0, squares - sum * sum / deviation.length);
    }

    double autocorrelation(int lag) {
      double squares = sumOfSquares();
      if (!(squares > 0)) {
        throw new IllegalArgumentException("values must not all be equal");
      }
      double products = 0;
      for (int i = 0; i + lag < deviation.length; i++) {
        products += deviation[i] * deviation[i + lag];
      }
      return products / squares;
    }
  }
}
