package lotproof.statistics.components;

import java.util.Arrays;
import org.apache.commons.math3.util.KthSelector;

/**
 * Drawn curves of future units, kept so that many questions are answered from the same draws: the
 * mean curve plus the inflation times drawn deviations.
 */
public final class FutureCurves {
  private final double[] means;

  /** One drawn unit after another, each over its points. */
  private final double[] deviations;

  FutureCurves(double[] means, double[] deviations) {
    this.means = means;
    this.deviations = deviations;
  }

  /**
   * The largest error of each drawn unit over its points, ascending.
   *
   * @param inflation factor for the deviations, above 0
   * @param sizes true: the largest size; false: the largest value, too low readings not counted
   */
  public double[] largest(double inflation, boolean sizes) {
    double[] largest = unordered(inflation, sizes);
    Arrays.sort(largest);
    return largest;
  }

  /**
   * The largest error that a share of the drawn units does not exceed: as {@link #quantile} of
   * {@link #largest}, without putting all in order.
   */
  public double largest(double inflation, boolean sizes, double content) {
    Checks.fraction(content, "content");
    double[] largest = unordered(inflation, sizes);
    return new KthSelector().select(largest, null, rank(content, largest.length));
  }

  private double[] unordered(double inflation, boolean sizes) {
    if (!(inflation > 0 && inflation < Double.POSITIVE_INFINITY)) {
      throw new IllegalArgumentException("inflation must be above 0 and finite, was " + inflation);
    }
    double[] mean = means;
    double[] deviation = deviations;
    double[] largest = new double[deviation.length / mean.length];
    int at = 0;
    for (int d = 0; d < largest.length; d++) {
      double most = sizes ? 0 : Double.NEGATIVE_INFINITY;
      for (double expected : mean) {
        double error = expected + inflation * deviation[at++];
        double counts = sizes && error < 0 ? -error : error;
        if (counts > most) {
          most = counts;
        }
      }
      largest[d] = most;
    }
    return largest;
  }

  private static int rank(double content, int count) {
    return Math.max(0, (int) Math.ceil(content * count) - 1);
  }

  /** The value of ascending ones that a share of them does not exceed. */
  public static double quantile(double[] ascending, double content) {
    Checks.fraction(content, "content");
    return ascending[rank(content, ascending.length)];
  }
}
