package lotproof.statistics.stability;

import java.util.Comparator;
import java.util.List;
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
public record StabilityCurve(Measure measure, List<Point> points) {
  private static final double LEAST_DEGREES_OF_FREEDOM = 10;
  private static final double FALSE_NAMES = 0.01;

  /**
   * Measures of how far averages of m successive readings differ from the next ones.
   *
   * <p>With x the running sum of the readings and D2 = x(i+2m) - 2 x(i+m) + x(i).
   */
  public enum Measure {
    /** sqrt(mean D2² / (2 m²)) over blocks that do not overlap. */
    ALLAN,
    /** The same over all i: the same expectation with a narrower interval. The usual choice. */
    OVERLAPPING_ALLAN;

    boolean overlapping() {
      return this == OVERLAPPING_ALLAN;
    }

    /** The largest number of readings averaged that n readings allow. */
    public int largestFactor(int n) {
      return n / 2;
    }
  }

  /**
   * The kinds of noise in readings, by the power law f^alpha of their spectrum. In the words of
   * clocks, readings take the place of frequency.
   */
  public enum NoiseType {
    /** Alpha 2: successive differences of white noise, such as quantisation of a sum. */
    DIFFERENCED_WHITE(2),
    /** Alpha 1: successive differences of flicker. */
    DIFFERENCED_FLICKER(1),
    /** Alpha 0: independent readings. Averaging helps with the square root of the number. */
    WHITE(0),
    /** Alpha -1: the 1/f noise of bridges and amplifiers. Averaging stops helping. */
    FLICKER(-1),
    /** Alpha -2: steps that add up, such as warming. Averaging longer makes it worse. */
    RANDOM_WALK(-2);

    private final int alpha;

    NoiseType(int alpha) {
      this.alpha = alpha;
    }

    /** The power of frequency in the spectrum. */
    public int alpha() {
      return alpha;
    }

    static NoiseType nearest(double power) {
      int rounded = (int) Math.max(-2, Math.min(2, Math.rint(power)));
      return values()[2 - rounded];
    }
  }

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

  /** What averaging does around a point, by the slope of the curve in logarithms. */
  public enum Behaviour {
    /** Slope below -0.75: the noise of neighbours cancels, as in sines and quantisation of sums. */
    CANCELS,
    /** Slope about -1/2: independent readings. */
    WHITE,
    /** Slope about 0: averaging does not help. */
    FLICKER,
    /** Slope about +1/2: averaging longer makes it worse. */
    RANDOM_WALK,
    /** Slope above 0.75: a steady drift. */
    DRIFT
  }

  /**
   * The slope of log deviation over log time between the neighbours of a point, or to its only one.
   *
   * @param index number of the point, from 0
   * @return 0 where a deviation is 0 or there is no neighbour
   */
  public double slopeAt(int index) {
    Point before = points.get(Math.max(0, index - 1));
    Point after = points.get(Math.min(points.size() - 1, index + 1));
    boolean usable = before.deviation() > 0 && after.deviation() > 0 && points.size() > 1;
    return usable
        ? Math.log(after.deviation() / before.deviation())
            / Math.log(after.seconds() / before.seconds())
        : 0;
  }

  /**
   * What averaging does around a point: the nearest of the slopes -1, -1/2, 0, 1/2 and 1, where the
   * slope can be told from that of white noise. There the ratio of deviation² x time of the two
   * neighbours follows Fisher's F; all points of a curve of white noise share a chance of 0.01 to
   * be called anything else.
   *
   * @param index number of the point, from 0
   */
  public Behaviour behaviourAt(int index) {
    if (looksWhite(index)) {
      return Behaviour.WHITE;
    }
    int nearest = (int) Math.rint(2 * Math.max(-1, Math.min(1, slopeAt(index))));
    return Behaviour.values()[nearest + 2];
  }

  private boolean looksWhite(int index) {
    Point before = points.get(Math.max(0, index - 1));
    Point after = points.get(Math.min(points.size() - 1, index + 1));
    double early = before.deviation() * before.deviation() * before.seconds();
    double late = after.deviation() * after.deviation() * after.seconds();
    double tail = FALSE_NAMES / 2 / points.size();
    double a = after.degreesOfFreedom();
    double b = before.degreesOfFreedom();
    return late <= early * DistributionQuantiles.fisherUpper(a, b, tail)
        && early <= late * DistributionQuantiles.fisherUpper(b, a, tail);
  }

  /** Whether a longer averaging time is known well enough to be told anything of. */
  public boolean knowsBeyond(Point point) {
    return known().stream().anyMatch(other -> other.factor() > point.factor());
  }

  private List<Point> known() {
    return points.stream().filter(p -> p.degreesOfFreedom() >= LEAST_DEGREES_OF_FREEDOM).toList();
  }

  /**
   * The shortest averaging time whose deviation cannot be told from the smallest: log(deviation /
   * smallest) is at most 1.64 standard errors, sqrt(1/(2 nu) + 1/(2 nu_least)). Only points of ten
   * or more degrees of freedom count, because the last ones of a curve lie anywhere.
   */
  public Point shortestNearMinimum() {
    List<Point> known = known();
    Point least = known.stream().min(Comparator.comparing(Point::deviation)).orElse(points.get(0));
    return known.stream().filter(point -> cannotBeTold(point, least)).findFirst().orElse(least);
  }

  private static boolean cannotBeTold(Point point, Point least) {
    double variance = 0.5 / point.degreesOfFreedom() + 0.5 / least.degreesOfFreedom();
    double reach = DistributionQuantiles.normal(0.95) * Math.sqrt(variance);
    return point.deviation() <= least.deviation() * Math.exp(reach);
  }
}
