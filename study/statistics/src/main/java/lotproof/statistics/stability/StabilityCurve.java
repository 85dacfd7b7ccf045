package lotproof.statistics.stability;

import java.util.ArrayList;
import java.util.List;
import lotproof.statistics.Checks;
import lotproof.statistics.DistributionQuantiles;
import lotproof.statistics.Interval;

/**
 * A stability measure against averaging time, with intervals.
 *
 * <p>Interval of the deviation: deviation x sqrt(edf / chi-square(edf)) at both tails, with the
 * equivalent degrees of freedom of the noise found at that averaging time. Where fewer than thirty
 * averages are left the kind of noise is taken from the last factor that had them.
 *
 * @param measure which measure
 * @param points in rising order of averaging time
 */
public record StabilityCurve(StabilityMeasure measure, List<Point> points) {
  private static final int AVERAGES_TO_TELL_NOISE = 30;

  /**
   * One point of the curve.
   *
   * @param factor number of readings averaged
   * @param seconds averaging time
   * @param deviation in units of the readings
   * @param interval confidence interval of the deviation
   * @param noise kind of noise at this averaging time
   * @param degreesOfFreedom equivalent degrees of freedom
   */
  public record Point(
      int factor,
      double seconds,
      double deviation,
      Interval interval,
      NoiseType noise,
      double degreesOfFreedom) {}

  public StabilityCurve {
    points = List.copyOf(points);
    if (points.isEmpty()) {
      throw new IllegalArgumentException("points must not be empty");
    }
  }

  /**
   * The curve at factors 1, 2, 4 and so on, up to the largest that leaves a difference to square.
   *
   * @param readings ten or more, at equal steps, not all equal
   * @param secondsPerReading the step
   * @param confidence of the intervals
   */
  public static StabilityCurve of(
      StabilityMeasure measure, double[] readings, double secondsPerReading, double confidence) {
    double[] y = Checks.sample(readings, 10, "readings");
    Checks.positive(secondsPerReading, "secondsPerReading");
    Checks.fraction(confidence, "confidence");
    List<Point> points = new ArrayList<>();
    NoiseType noise = Stability.noiseType(y, 1);
    int largest = Math.min(measure.largestFactor(y.length), y.length / 2);
    for (int m = 1; m <= largest; m *= 2) {
      if (y.length / m >= AVERAGES_TO_TELL_NOISE) {
        noise = Stability.noiseType(y, m);
      }
      double deviation = Stability.deviation(measure, y, m);
      double df = EquivalentDegreesOfFreedom.of(measure, noise, y.length, m);
      double tail = (1 - confidence) / 2;
      Interval interval =
          new Interval(
              deviation * Math.sqrt(df / DistributionQuantiles.chiSquareUpper(df, tail)),
              deviation * Math.sqrt(df / DistributionQuantiles.chiSquare(df, tail)),
              confidence);
      points.add(new Point(m, m * secondsPerReading, deviation, interval, noise, df));
    }
    return new StabilityCurve(measure, points);
  }

  /** The point with the smallest deviation: averaging longer than this does not pay. */
  public Point minimum() {
    Point least = points.get(0);
    for (Point point : points) {
      if (point.deviation() < least.deviation()) {
        least = point;
      }
    }
    return least;
  }

  /**
   * The shortest averaging time whose deviation cannot be told from the smallest: its interval
   * reaches down to the smallest deviation found.
   */
  public Point shortestNearMinimum() {
    double least = minimum().deviation();
    for (Point point : points) {
      if (point.interval().lower() <= least) {
        return point;
      }
    }
    return minimum();
  }
}
