package lotproof.reduce.capture;

import lotproof.reduce.capture.CaptureNoise.Moments;

/** Sums about a fixed origin near the mean, so that rounding stays small. */
final class RunningMoments {
  private final double origin;
  private long count;
  private double sum;
  private double squares;
  private double minimum = Double.POSITIVE_INFINITY;
  private double maximum = Double.NEGATIVE_INFINITY;

  RunningMoments(double origin) {
    this.origin = origin;
  }

  void add(double[] values, int n) {
    double total = sum;
    double totalSquares = squares;
    double low = minimum;
    double high = maximum;
    for (int i = 0; i < n; i++) {
      double value = values[i];
      double d = value - origin;
      total += d;
      totalSquares += d * d;
      low = value < low ? value : low;
      high = value > high ? value : high;
    }
    count += n;
    sum = total;
    squares = totalSquares;
    minimum = low;
    maximum = high;
  }

  Moments moments() {
    double mean = count == 0 ? 0 : sum / count;
    double variance = count < 2 ? 0 : Math.max(0, (squares - sum * mean) / (count - 1));
    boolean equal = !(maximum > minimum);
    return new Moments(
        count, equal ? minimum : origin + mean, equal ? 0 : Math.sqrt(variance), minimum, maximum);
  }
}
