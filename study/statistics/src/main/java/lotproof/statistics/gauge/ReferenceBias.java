package lotproof.statistics.gauge;

import lotproof.statistics.Checks;
import lotproof.statistics.Interval;
import lotproof.statistics.summary.Summary;

/**
 * The bias of a bench against a reference mass.
 *
 * <p>Bias = mean reading - reference value. Its standard uncertainty joins the scatter of the mean,
 * s / sqrt(n), with the standard uncertainty of the reference, which does not fall with n: no
 * number of readings tells a bias smaller than the reference knows itself. For a mass known by its
 * class only, the standard uncertainty is the maximum permissible error over sqrt(3).
 *
 * <p>Source: JCGM 100:2008, 4.3.7, 5.1 and G.4.
 *
 * @param readings number of readings
 * @param bias mean reading less reference value
 * @param uncertainty of the bias
 * @param interval of the bias
 */
public record ReferenceBias(
    int readings, double bias, CombinedUncertainty uncertainty, Interval interval) {

  /**
   * The bias of readings of one reference.
   *
   * @param readings two or more
   * @param referenceValue what the reference is
   * @param referenceStandardUncertainty of that value; 0 if taken as exact
   * @param confidence of the interval
   */
  public static ReferenceBias of(
      double[] readings,
      double referenceValue,
      double referenceStandardUncertainty,
      double confidence) {
    Summary summary = Summary.of(readings);
    Checks.finite(referenceValue, "referenceValue");
    Checks.notNegative(referenceStandardUncertainty, "referenceStandardUncertainty");
    CombinedUncertainty uncertainty =
        CombinedUncertainty.of(
            new double[] {summary.sd() / Math.sqrt(summary.n()), referenceStandardUncertainty},
            new double[] {summary.n() - 1.0, Double.POSITIVE_INFINITY});
    double bias = summary.mean() - referenceValue;
    double half = uncertainty.coverageFactor(confidence) * uncertainty.standardUncertainty();
    Interval interval = new Interval(bias - half, bias + half, confidence);
    return new ReferenceBias(summary.n(), bias, uncertainty, interval);
  }

  /** Whether the interval leaves out zero. */
  public boolean shown() {
    return interval.lower() > 0 || interval.upper() < 0;
  }
}
