package lotproof.statistics.components;

import java.util.Arrays;

/**
 * Drawn curves of future units, kept so that many questions are answered from the same draws: the
 * mean curve plus the inflation times drawn deviations.
 */
public final class FutureCurves {
  private final double[] means;
  private final double[][] deviations;

  FutureCurves(double[] means, double[][] deviations) {
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
    if (!(inflation > 0 && inflation < Double.POSITIVE_INFINITY)) {
      throw new IllegalArgumentException("inflation must be above 0 and finite, was " + inflation);
    }
    double[] largest = new double[deviations.length];
    for (int d = 0; d < largest.length; d++) {
      double[] deviation = deviations[d];
      double most = sizes ? 0 : Double.NEGATIVE_INFINITY;
      for (int x = 0; x < means.length; x++) {
        double error = means[x] + inflation * deviation[x];
        most = Math.max(most, sizes ? Math.abs(error) : error);
      }
      largest[d] = most;
    }
    Arrays.sort(largest);
    return largest;
  }

  /** The value of ascending ones that a share of them does not exceed. */
  public static double quantile(double[] ascending, double content) {
    Checks.fraction(content, "content");
    return ascending[Math.max(0, (int) Math.ceil(content * ascending.length) - 1)];
  }
}
