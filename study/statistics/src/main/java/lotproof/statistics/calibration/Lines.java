package lotproof.statistics.calibration;

import lotproof.statistics.Checks;
import lotproof.statistics.summary.Summary;

/**
 * Straight lines through calibration points, x the load and y the output. Points may stand in any
 * order and loads may repeat; at least two loads must differ, and the line must not be level.
 */
public final class Lines {
  private Lines() {}

  /** The line of a kind. */
  public static LineFit fit(LineKind kind, double[] x, double[] y) {
    return switch (kind) {
      case TERMINAL -> terminal(x, y);
      case LEAST_SQUARES -> leastSquares(x, y);
    };
  }

  /** Through the mean output at the smallest and at the largest load. */
  public static LineFit terminal(double[] x, double[] y) {
    check(x, y);
    double low = least(x);
    double high = most(x);
    return through(low, meanAt(x, y, low), high, meanAt(x, y, high), x, y);
  }

  /** The smallest sum of squared deviations, formed about the mean load. */
  public static LineFit leastSquares(double[] x, double[] y) {
    check(x, y);
    double slope = slope(x, y);
    return line(Summary.mean(y) - slope * Summary.mean(x), slope, x, y);
  }

  /** The least-squares slope of y on x; 0 where x does not vary. */
  public static double slope(double[] x, double[] y) {
    Checks.sameLength(x, y, "x and y");
    double meanX = Summary.mean(x);
    double meanY = Summary.mean(y);
    double squares = 0;
    double products = 0;
    for (int i = 0; i < x.length; i++) {
      squares += (x[i] - meanX) * (x[i] - meanX);
      products += (x[i] - meanX) * (y[i] - meanY);
    }
    return squares > 0 ? products / squares : 0;
  }

  private static LineFit through(
      double x1, double y1, double x2, double y2, double[] x, double[] y) {
    double slope = (y2 - y1) / (x2 - x1);
    return line(y1 - slope * x1, slope, x, y);
  }

  private static LineFit line(double intercept, double slope, double[] x, double[] y) {
    if (slope == 0) {
      throw new IllegalArgumentException("y must change with x: the line is level");
    }
    return new LineFit(intercept, slope, x, y);
  }

  private static void check(double[] x, double[] y) {
    Checks.sample(x, 2, "x");
    Checks.sample(y, 2, "y");
    Checks.sameLength(x, y, "x and y");
    if (!(least(x) < most(x))) {
      throw new IllegalArgumentException("x must hold at least two different loads");
    }
  }

  private static double least(double[] x) {
    double least = x[0];
    for (double value : x) {
      least = Math.min(least, value);
    }
    return least;
  }

  private static double most(double[] x) {
    double most = x[0];
    for (double value : x) {
      most = Math.max(most, value);
    }
    return most;
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
}
