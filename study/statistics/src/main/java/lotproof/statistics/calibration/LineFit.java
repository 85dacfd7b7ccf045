package lotproof.statistics.calibration;

/**
 * A straight line through calibration points with what it leaves over.
 *
 * <p>Deviation = output - (intercept + slope x load), in output units and in the order of the
 * points.
 */
public final class LineFit {
  private final double intercept;
  private final double slope;
  private final double[] deviations;

  LineFit(double intercept, double slope, double[] x, double[] y) {
    this.intercept = intercept;
    this.slope = slope;
    this.deviations = new double[x.length];
    for (int i = 0; i < x.length; i++) {
      deviations[i] = y[i] - (intercept + slope * x[i]);
    }
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
}
