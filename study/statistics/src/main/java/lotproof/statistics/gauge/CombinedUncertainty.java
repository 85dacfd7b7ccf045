package lotproof.statistics.gauge;

import lotproof.statistics.Checks;
import lotproof.statistics.DistributionQuantiles;

/**
 * Independent standard uncertainties added in quadrature, with their joint degrees of freedom.
 *
 * <p>u² = sum u_i²; nu = u^4 / sum (u_i^4 / nu_i) (Welch and Satterthwaite). A part known for
 * certain has infinite degrees of freedom.
 *
 * <p>Source: JCGM 100:2008, G.4.
 *
 * @param standardUncertainty u
 * @param degreesOfFreedom nu, infinite if every part's are
 */
public record CombinedUncertainty(double standardUncertainty, double degreesOfFreedom) {

  /** The combination of parts with their degrees of freedom, in the same order. */
  public static CombinedUncertainty of(double[] uncertainties, double[] degreesOfFreedom) {
    Checks.sample(uncertainties, 1, "uncertainties");
    Checks.sameLength(uncertainties, degreesOfFreedom, "uncertainties and degreesOfFreedom");
    double square = 0;
    double fourth = 0;
    for (int i = 0; i < uncertainties.length; i++) {
      double u = Checks.notNegative(uncertainties[i], "uncertainties[" + i + "]");
      double df = degreesOfFreedom[i];
      if (!(df > 0)) {
        throw new IllegalArgumentException(
            "degreesOfFreedom[" + i + "] must be above 0, was " + df);
      }
      square += u * u;
      fourth += u * u * u * u / df;
    }
    double df = fourth > 0 ? square * square / fourth : Double.POSITIVE_INFINITY;
    return new CombinedUncertainty(Math.sqrt(square), df);
  }

  /** The factor for an expanded uncertainty of a confidence: Student's, or the normal quantile. */
  public double coverageFactor(double confidence) {
    double tail = (1 - Checks.fraction(confidence, "confidence")) / 2;
    return Double.isInfinite(degreesOfFreedom)
        ? DistributionQuantiles.normalUpper(tail)
        : DistributionQuantiles.studentUpper(degreesOfFreedom, tail);
  }
}
