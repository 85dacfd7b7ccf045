package lotproof.statistics.summary;

/** The deviations of values from their mean, with the mean carried in two doubles. */
final class Deviations {
  private final double mean;
  private final double[] deviation;

  private Deviations(double mean, double[] deviation) {
    this.mean = mean;
    this.deviation = deviation;
  }

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

  double mean() {
    return mean;
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
