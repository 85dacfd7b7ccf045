package lotproof.statistics.calibration;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.stream.IntStream;
import lotproof.statistics.Checks;
import lotproof.statistics.summary.Summary;

/**
 * Straight lines through calibration points, x the load and y the output. Points may stand in any
 * order and loads may repeat; at least two loads must differ, and the line must not be level.
 *
 * <p>Sources: OIML R 60-2:2021, 2.8.2 and R 60-3:2021, 2.1.2 for the line at 75 % of the range;
 * interpolation to 75 % where no load stands there is common practice, no source.
 */
public final class Lines {
  private static final double THREE_QUARTERS = 0.75;

  private Lines() {}

  /** The line of a kind. */
  public static LineFit fit(LineKind kind, double[] x, double[] y) {
    return switch (kind) {
      case TERMINAL -> terminal(x, y);
      case LEAST_SQUARES -> leastSquares(x, y);
      case MINIMUM_ZONE -> minimumZone(x, y);
      case THREE_QUARTERS -> threeQuarters(x, y);
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
    int n = x.length;
    double meanX = Summary.mean(x);
    double meanY = Summary.mean(y);
    double squares = 0;
    double products = 0;
    for (int i = 0; i < n; i++) {
      squares += (x[i] - meanX) * (x[i] - meanX);
      products += (x[i] - meanX) * (y[i] - meanY);
    }
    double slope = products / squares;
    return line(meanY - slope * meanX, slope, x, y);
  }

  /**
   * The middle of the narrowest vertical strip that holds every point. The width of the strip is a
   * convex function of its slope and least along an edge of the points' convex hull, so the edges
   * are tried one by one.
   */
  public static LineFit minimumZone(double[] x, double[] y) {
    check(x, y);
    double best = Double.POSITIVE_INFINITY;
    double slope = 0;
    double middle = 0;
    for (double candidate : hullSlopes(x, y)) {
      double low = Double.POSITIVE_INFINITY;
      double high = Double.NEGATIVE_INFINITY;
      for (int i = 0; i < x.length; i++) {
        double level = y[i] - candidate * x[i];
        low = Math.min(low, level);
        high = Math.max(high, level);
      }
      if (high - low < best) {
        best = high - low;
        slope = candidate;
        middle = 0.5 * (low + high);
      }
    }
    return line(middle, slope, x, y);
  }

  /**
   * Through the mean output at the smallest load and that at 75 % of the range above it,
   * interpolated between the neighbouring loads where none stands there.
   */
  public static LineFit threeQuarters(double[] x, double[] y) {
    check(x, y);
    double low = least(x);
    double load = low + THREE_QUARTERS * (most(x) - low);
    double below = low;
    double above = most(x);
    for (double value : x) {
      if (value <= load) {
        below = Math.max(below, value);
      }
      if (value >= load) {
        above = Math.min(above, value);
      }
    }
    double output = meanAt(x, y, below);
    if (above > below) {
      output += (meanAt(x, y, above) - output) * (load - below) / (above - below);
    }
    return through(low, meanAt(x, y, low), load, output, x, y);
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

  private static List<Double> hullSlopes(double[] x, double[] y) {
    List<Integer> order =
        IntStream.range(0, x.length)
            .boxed()
            .sorted(Comparator.<Integer>comparingDouble(i -> x[i]).thenComparingDouble(i -> y[i]))
            .toList();
    List<Double> slopes = new ArrayList<>();
    for (int side : new int[] {1, -1}) {
      List<Integer> hull = new ArrayList<>();
      for (int point : order) {
        while (hull.size() >= 2
            && side * turn(x, y, hull.get(hull.size() - 2), hull.get(hull.size() - 1), point)
                <= 0) {
          hull.remove(hull.size() - 1);
        }
        hull.add(point);
      }
      for (int i = 1; i < hull.size(); i++) {
        double run = x[hull.get(i)] - x[hull.get(i - 1)];
        if (run > 0) {
          slopes.add((y[hull.get(i)] - y[hull.get(i - 1)]) / run);
        }
      }
    }
    return slopes;
  }

  /** Positive when the way from a over b to c turns left. */
  private static double turn(double[] x, double[] y, int a, int b, int c) {
    return (x[b] - x[a]) * (y[c] - y[a]) - (y[b] - y[a]) * (x[c] - x[a]);
  }
}
