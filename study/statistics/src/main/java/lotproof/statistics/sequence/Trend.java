package lotproof.statistics.sequence;

import lotproof.statistics.Checks;
import lotproof.statistics.calibration.PolynomialFit;
import lotproof.statistics.summary.Summary;
import org.apache.commons.statistics.distribution.TDistribution;

/**
 * A straight trend through values taken at equal steps, with a standard error that knows about
 * their memory.
 *
 * <p>The ordinary standard error takes the residuals as independent. Bench readings are not: with a
 * lag-1 autocorrelation r of the residuals, n readings tell about the slope what n (1 - r)/(1 + r)
 * independent ones would. The honest standard error is the ordinary one times sqrt((1 + r)/(1 -
 * r)), with as many degrees of freedom as the effective number of readings less two. r is corrected
 * for its bias, r + (1 + 4 r)/n, never taken below zero (memory that helps is not relied upon), and
 * held at 0.999: beyond it no number of readings tells a trend from a walk.
 *
 * <p>Assumes that the residuals' memory fades geometrically. For random walks even the honest error
 * is too small; {@link #effectiveN()} near two says so.
 *
 * <p>Sources: NIST/SEMATECH e-Handbook, 1.4.2.7 (why the ordinary t is worthless there); G. E. P.
 * Box, G. M. Jenkins, Time Series Analysis, on the variance of means of autoregressive series (from
 * memory).
 *
 * @param n number of values
 * @param intercept of the line at step 0, the first value standing at step 1
 * @param interceptStandardError ordinary
 * @param slope change for one step
 * @param ordinaryStandardError of the slope for independent residuals
 * @param residualSd with divisor n - 2
 * @param residualAutocorrelation lag 1, as observed
 * @param effectiveN number of independent readings that would tell as much
 * @param honestStandardError of the slope
 */
public record Trend(
    int n,
    double intercept,
    double interceptStandardError,
    double slope,
    double ordinaryStandardError,
    double residualSd,
    double residualAutocorrelation,
    double effectiveN,
    double honestStandardError) {
  private static final double MOST_MEMORY = 0.999;

  /** The trend of five or more values, in the order of time, that do not all lie on one line. */
  public static Trend of(double[] values) {
    double[] y = Checks.sample(values, 5, "values");
    int n = y.length;
    double[] step = new double[n];
    for (int i = 0; i < n; i++) {
      step[i] = i + 1.0;
    }
    PolynomialFit fit = PolynomialFit.of(step, y, 1);
    double[] coefficients = fit.coefficients();
    double[] errors = fit.standardErrors();
    double r = Summary.autocorrelation(fit.residuals(), 1);
    double memory = Math.min(MOST_MEMORY, Math.max(0, r + (1 + 4 * r) / n));
    double inflation = (1 + memory) / (1 - memory);
    return new Trend(
        n,
        coefficients[0],
        errors[0],
        coefficients[1],
        errors[1],
        fit.residualSd(),
        r,
        n / inflation,
        errors[1] * Math.sqrt(inflation));
  }

  /** Student's statistic of the slope with the honest standard error. */
  public double honestStatistic() {
    return slope / honestStandardError;
  }

  /** Two-sided chance of so steep a slope, by the honest standard error. */
  public double honestPValue() {
    return twoSided(honestStatistic(), Math.max(1, effectiveN - 2));
  }

  private static double twoSided(double t, double df) {
    return 2 * TDistribution.of(df).survivalProbability(Math.abs(t));
  }
}
