package lotproof.reduce.capture;

import lotproof.reduce.capture.CaptureNoise.Moments;
import lotproof.reduce.capture.CaptureNoise.Saturation;

/** Sums about a fixed origin near the mean, so that rounding stays small, and extremes. */
final class RunningMoments {
  private final double origin;
  private long count;
  private double sum;
  private double squares;
  private double minimum = Double.POSITIVE_INFINITY;
  private double maximum = Double.NEGATIVE_INFINITY;
  private long atMinimum;
  private long atMaximum;
  private long minimumLine;
  private long maximumLine;

  RunningMoments(double origin) {
    this.origin = origin;
  }

  void add(long line, double value) {
    double d = value - origin;
    count++;
    sum += d;
    squares += d * d;
    if (value <= minimum) {
      atMinimum = value < minimum ? 1 : atMinimum + 1;
      minimumLine = value < minimum ? line : minimumLine;
      minimum = value;
    }
    if (value >= maximum) {
      atMaximum = value > maximum ? 1 : atMaximum + 1;
      maximumLine = value > maximum ? line : maximumLine;
      maximum = value;
    }
  }

  Moments moments() {
    double mean = count == 0 ? 0 : sum / count;
    double variance = count < 2 ? 0 : Math.max(0, (squares - sum * mean) / (count - 1));
    boolean equal = !(maximum > minimum);
    return new Moments(
        count, equal ? minimum : origin + mean, equal ? 0 : Math.sqrt(variance), minimum, maximum);
  }

  /** The smallest sample, how often it came, and where first. */
  Saturation lowest() {
    return new Saturation(minimum, atMinimum, minimumLine);
  }

  /** The same of the largest. */
  Saturation highest() {
    return new Saturation(maximum, atMaximum, maximumLine);
  }
}
