package lotproof.statistics.sequence;

import java.util.stream.IntStream;
import lotproof.statistics.Checks;
import lotproof.statistics.calibration.StraightLine;
import lotproof.statistics.summary.Summary;
import org.apache.commons.statistics.distribution.TDistribution;

/**
 * A straight trend through values taken at equal steps, with a standard error adjusted for lag-1
 * autocorrelation.
 *
 * <p>The ordinary standard error takes the residuals as independent. Bench readings are not: with a
 * lag-1 autocorrelation r of the residuals, n readings tell about the slope what n (1 - r)/(1 + r)
 * independent ones would. The adjusted standard error is the ordinary one times sqrt((1 + r)/(1 -
 * r)), with as many degrees of freedom as the effective number of readings less two. r is corrected
 * for its bias, r + (1 + 4 r)/n, never taken below zero (memory that helps is not relied upon), and
 * held at 0.999: beyond it no number of readings tells a trend from a walk.
 *
 * <p>Assumes that the residuals' memory fades geometrically. For random walks even the adjusted
 * error is too small; {@link #effectiveN()} near two says so.
 *
 * <p>Sources: NIST/SEMATECH e-Handbook, 1.4.2.7 (why the ordinary t is worthless there); G. E. P.
 * Box, G. M. Jenkins, Time Series Analysis, on the variance of means of autoregressive series (from
 * memory).
 *
 * @param slope change for one step
 * @param ordinaryStandardError of the slope for independent residuals
 * @param residualSd with divisor n - 2
 * @param effectiveN number of independent readings that would tell as much
 * @param adjustedStandardError of the slope
 */
public record Trend(
    double slope,
    double ordinaryStandardError,
    double residualSd,
    double effectiveN,
    double adjustedStandardError) {
  private static final double MOST_MEMORY = 0.999;

  /** The trend of five or more values, in the order of time. */
  public static Trend of(double[] values) {
    double[] y = Checks.sample(values, 5, "values");
    int n = y.length;
    double[] step = IntStream.rangeClosed(1, n).asDoubleStream().toArray();
    StraightLine line = StraightLine.leastSquares(step, y);
    double[] off = line.deviations();
    double r = Summary.sd(off) > 0 ? Summary.autocorrelation(off, 1) : 0;
    double memory = Math.min(MOST_MEMORY, Math.max(0, r + (1 + 4 * r) / n));
    double inflation = (1 + memory) / (1 - memory);
    return new Trend(
        line.slope(),
        line.slopeStandardError(),
        line.residualSd(),
        n / inflation,
        line.slopeStandardError() * Math.sqrt(inflation));
  }

  /** Student's statistic of the slope with the adjusted standard error. */
  public double adjustedStatistic() {
    return slope / adjustedStandardError;
  }

  /**
   * Two-sided chance of so steep a slope, by the adjusted standard error: 0 where all values lie on
   * one line, and 1 where that is level.
   */
  public double adjustedPValue() {
    if (adjustedStandardError == 0) {
      return slope == 0 ? 1 : 0;
    }
    double t = Math.abs(adjustedStatistic());
    return 2 * TDistribution.of(Math.max(1, effectiveN - 2)).survivalProbability(t);
  }
}
