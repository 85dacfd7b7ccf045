package lotproof.statistics.gauge;

import java.util.ArrayList;
import java.util.List;
import lotproof.statistics.Checks;
import lotproof.statistics.DistributionQuantiles;
import lotproof.statistics.summary.Summary;
import org.apache.commons.math3.analysis.UnivariateFunction;
import org.apache.commons.math3.analysis.solvers.BrentSolver;
import org.apache.commons.numbers.gamma.LogGamma;

/**
 * A chart of single readings of a check standard: does today's bench measure as the bench of the
 * baseline did?
 *
 * <p>From first principles, for independent normal readings x1..xn of the baseline:
 *
 * <ul>
 *   <li>spread sigma = mean moving range / d2 with d2 = E|Z1 - Z2| = 2/sqrt(pi), so that a slow
 *       shift within the baseline widens it little;
 *   <li>its degrees of freedom nu are those of a standard deviation with the same relative
 *       variance, 1/c4² - 1 = Var(sigma)/sigma², c4 that of nu + 1 values. Neighbouring ranges
 *       share a reading; with U, V standard normal and correlated -1/2, E|U V| = (2/pi)(sqrt(3)/2 +
 *       pi/12), so that Var(sum of n - 1 ranges)/sigma² = (n - 1)(2 - 4/pi) + 2 (n - 2)(2 E|U V| -
 *       4/pi);
 *   <li>c4 sigma then stands for a standard deviation: a new reading lies within mean ± t(nu) c4
 *       sigma sqrt(1 + 1/n) with the chance 1 - alpha, the baseline's own uncertainty included;
 *   <li>a new moving range lies below sqrt(2) c4 sigma t(nu) with the chance 1 - alpha.
 * </ul>
 *
 * <p>alpha is the chance of a false alarm at one point, on average over baselines. The customary
 * three standard deviations are alpha = 0.0027 with a baseline known exactly.
 *
 * @param centre mean of the baseline
 * @param sigma spread of single readings, from the moving ranges
 * @param degreesOfFreedom of sigma
 * @param lower lower limit of a new reading
 * @param upper upper limit of a new reading
 * @param rangeLimit upper limit of a new moving range
 * @param falseAlarm alpha
 * @param baselineSd ordinary standard deviation of the baseline; far above sigma it tells of drift
 */
public record CheckStandardChart(
    double centre,
    double sigma,
    double degreesOfFreedom,
    double lower,
    double upper,
    double rangeLimit,
    double falseAlarm,
    double baselineSd) {
  private static final double MEAN_RANGE = 2 / Math.sqrt(Math.PI);

  /** What a reading gives away. */
  public enum Signal {
    /** Outside the limits of single readings. */
    BEYOND_LIMITS,
    /** Too far from the reading before. */
    JUMP,
    /** One of a long row on one side of the centre. */
    LONG_RUN
  }

  /**
   * A signal at one reading.
   *
   * @param index position of the reading, from 0
   * @param value the reading
   * @param signal what it shows
   */
  public record Alarm(int index, double value, Signal signal) {}

  /**
   * The chart of a baseline.
   *
   * @param baseline six or more readings in the order of time, not all equal
   * @param falseAlarm alpha, such as 0.0027
   */
  public static CheckStandardChart of(double[] baseline, double falseAlarm) {
    double[] x = Checks.sample(baseline, 6, "baseline");
    Checks.fraction(falseAlarm, "falseAlarm");
    double sum = 0;
    for (int i = 1; i < x.length; i++) {
      sum += Math.abs(x[i] - x[i - 1]);
    }
    if (!(sum > 0)) {
      throw new IllegalArgumentException("baseline must not hold one value throughout");
    }
    int n = x.length;
    double sigma = sum / (n - 1) / MEAN_RANGE;
    double df = degreesOfFreedom(n);
    double centre = Summary.mean(x);
    double t = DistributionQuantiles.studentUpper(df, falseAlarm / 2);
    double spread = t * sigma * c4(df);
    double half = spread * Math.sqrt(1 + 1.0 / n);
    return new CheckStandardChart(
        centre,
        sigma,
        df,
        centre - half,
        centre + half,
        Math.sqrt(2) * spread,
        falseAlarm,
        Summary.sd(x));
  }

  static double degreesOfFreedom(int n) {
    double own = 2 - 4 / Math.PI;
    double product = 2 / Math.PI * (Math.sqrt(3) / 2 + Math.PI / 12);
    double shared = 2 * product - 4 / Math.PI;
    double variance = (n - 1) * own + 2 * (n - 2) * shared;
    double mean = (n - 1) * MEAN_RANGE;
    double relative = variance / (mean * mean);
    UnivariateFunction excess = df -> 1 / (c4(df) * c4(df)) - 1 - relative;
    return new BrentSolver(1e-12, 1e-10).solve(200, excess, 0.5, n);
  }

  /** The mean of a standard deviation on so many degrees of freedom, in true ones. */
  private static double c4(double df) {
    return Math.sqrt(2 / df) * Math.exp(LogGamma.value(0.5 * (df + 1)) - LogGamma.value(0.5 * df));
  }

  /**
   * The signals in new readings. A row on one side signals from the length whose chance, (1/2) to
   * the length less one, does not exceed alpha.
   */
  public List<Alarm> judge(double[] readings) {
    double[] x = Checks.sample(readings, 1, "readings");
    int longRun = 1 + (int) Math.ceil(Math.log(falseAlarm) / Math.log(0.5));
    List<Alarm> alarms = new ArrayList<>();
    int run = 0;
    double side = 0;
    for (int i = 0; i < x.length; i++) {
      if (!(x[i] >= lower && x[i] <= upper)) {
        alarms.add(new Alarm(i, x[i], Signal.BEYOND_LIMITS));
      }
      if (i > 0 && Math.abs(x[i] - x[i - 1]) > rangeLimit) {
        alarms.add(new Alarm(i, x[i], Signal.JUMP));
      }
      double now = Math.signum(x[i] - centre);
      run = now != 0 && now == side ? run + 1 : 1;
      side = now;
      if (side != 0 && run >= longRun) {
        alarms.add(new Alarm(i, x[i], Signal.LONG_RUN));
      }
    }
    return alarms;
  }
}
