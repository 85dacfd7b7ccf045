package lotproof.statistics.calibration;

import java.util.Arrays;
import lotproof.statistics.Checks;
import lotproof.statistics.summary.Summary;

/**
 * A straight line through points, x the load and y the output, with what it leaves over: deviation
 * = output - (intercept + slope x load), in the order of the points. Points may stand in any order
 * and loads may repeat; at least two loads differ.
 *
 * <p>Standard errors take the deviations as independent and of one standard deviation. Source:
 * NIST/SEMATECH e-Handbook, 4.4.3.
 */
public final class StraightLine {
  /** The line that deviations are measured from. The figures differ, so each is named. */
  public enum Kind {
    /** Through the mean output at the smallest and at the largest load. */
    TERMINAL,
    /** The smallest sum of squared deviations. */
    LEAST_SQUARES
  }

  private final double intercept;
  private final double slope;
  private final double loadSquares;
  private final double[] deviations;

  private StraightLine(double slope, double x0, double y0, double[] x, double[] y) {
    this.slope = slope;
    this.intercept = y0 - slope * x0;
    this.loadSquares = products(x, x);
    this.deviations = new double[x.length];
    Arrays.setAll(deviations, i -> y[i] - y0 - slope * (x[i] - x0));
  }

  /** The line of a kind. */
  public static StraightLine fit(Kind kind, double[] x, double[] y) {
    return switch (kind) {
      case TERMINAL -> terminal(x, y);
      case LEAST_SQUARES -> leastSquares(x, y);
    };
  }

  private static StraightLine terminal(double[] x, double[] y) {
    check(x, y);
    double low = Arrays.stream(x).min().orElseThrow();
    double high = Arrays.stream(x).max().orElseThrow();
    double start = meanAt(x, y, low);
    return new StraightLine((meanAt(x, y, high) - start) / (high - low), low, start, x, y);
  }

  /** The smallest sum of squared deviations, formed about the mean load. */
  public static StraightLine leastSquares(double[] x, double[] y) {
    check(x, y);
    return new StraightLine(slope(x, y), Summary.mean(x), Summary.mean(y), x, y);
  }

  /** The least-squares slope of y on x; 0 where x does not vary. */
  public static double slope(double[] x, double[] y) {
    Checks.sameLength(x, y, "x and y");
    double squares = products(x, x);
    return squares > 0 ? products(x, y) / squares : 0;
  }

  /** Sum of products of the deviations from the means. */
  private static double products(double[] x, double[] y) {
    double meanX = Summary.mean(x);
    double meanY = Summary.mean(y);
    double sum = 0;
    for (int i = 0; i < x.length; i++) {
      sum += (x[i] - meanX) * (y[i] - meanY);
    }
    return sum;
  }

  private static void check(double[] x, double[] y) {
    Checks.sample(x, 2, "x");
    Checks.sample(y, 2, "y");
    Checks.sameLength(x, y, "x and y");
    if (Arrays.stream(x).distinct().count() < 2) {
      throw new IllegalArgumentException("x must hold at least two different loads");
    }
  }

  private static double meanAt(double[] x, double[] y, double load) {
    double sum = 0;
    int count = 0;
    for (int i = 0; i < x.length; i++) {
      if (x[i] == load) {
        sum += y[i];
        count++;
      }
    }
    return sum / count;
  }

  /** Output of the line at load zero. */
  public double intercept() {
    return intercept;
  }

  /** Output of the line for one unit of load. */
  public double slope() {
    return slope;
  }

  /** The deviation with the largest absolute value, with its sign; the first among equals. */
  public double largestDeviation() {
    double largest = 0;
    for (double deviation : deviations) {
      if (Math.abs(deviation) > Math.abs(largest)) {
        largest = deviation;
      }
    }
    return largest;
  }

  /** Output less output of the line, in the order of the points. */
  public double[] deviations() {
    return deviations.clone();
  }

  /** Standard deviation of the deviations, with n - 2 as divisor. */
  public double residualSd() {
    double squares = Arrays.stream(deviations).map(d -> d * d).sum();
    return Math.sqrt(squares / (deviations.length - 2));
  }

  /** Standard error of the slope. */
  public double slopeStandardError() {
    return residualSd() / Math.sqrt(loadSquares);
  }
}
