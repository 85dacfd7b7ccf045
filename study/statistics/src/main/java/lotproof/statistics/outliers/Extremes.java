package lotproof.statistics.outliers;

import lotproof.statistics.DistributionQuantiles;

/** What the tests on the largest studentised deviation share. */
final class Extremes {
  private Extremes() {}

  /**
   * The critical value of the largest |y - mean| / s among n values whose chance of exceeding it is
   * bounded by n times the tail: (n - 1) / sqrt(n) sqrt(t² / (n - 2 + t²)), t = t(tail; n - 2).
   */
  static double critical(int n, double tail) {
    double t = DistributionQuantiles.studentUpper(n - 2.0, tail);
    return (n - 1) / Math.sqrt(n) * Math.sqrt(t * t / (n - 2 + t * t));
  }

  /**
   * The position of the value that lies farthest from a centre on a side; the first among equals.
   */
  static int farthest(double[] values, double centre, Side side) {
    int found = 0;
    double most = Double.NEGATIVE_INFINITY;
    for (int i = 0; i < values.length; i++) {
      double distance = values[i] - centre;
      double reach =
          switch (side) {
            case LARGEST -> distance;
            case SMALLEST -> -distance;
            case EITHER -> Math.abs(distance);
          };
      if (reach > most) {
        most = reach;
        found = i;
      }
    }
    return found;
  }
}
