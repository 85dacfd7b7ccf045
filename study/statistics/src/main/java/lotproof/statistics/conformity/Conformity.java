package lotproof.statistics.conformity;

import lotproof.statistics.Checks;
import lotproof.statistics.DistributionQuantiles;
import org.apache.commons.math3.analysis.UnivariateFunction;
import org.apache.commons.math3.analysis.integration.gauss.GaussIntegrator;
import org.apache.commons.math3.analysis.integration.gauss.GaussIntegratorFactory;
import org.apache.commons.math3.analysis.solvers.BrentSolver;
import org.apache.commons.statistics.distribution.NormalDistribution;

/**
 * Conformity of one item with limits, given a measured value and its standard uncertainty.
 *
 * <ul>
 *   <li>Specific: the probability that this item, measured as y with uncertainty u, truly lies
 *       within its tolerance zone: Phi((TU - y)/u) - Phi((TL - y)/u).
 *   <li>Global: the probability that an item drawn from a normal production is accepted though it
 *       lies outside (consumer's risk) or rejected though it lies inside (producer's risk), when
 *       accepted means that the measured value lies within the acceptance zone.
 * </ul>
 *
 * <p>Assumptions: errors of measurement normal with standard deviation u and independent of the
 * item; for the specific probability no other knowledge of the item; for the global risks
 * production is normal with known mean and standard deviation. A common error of all measurements
 * (a reference mass) does not average out over items: guard against it by its limits, not by its
 * variance.
 *
 * <p>Source: JCGM 106:2012, clauses 7 to 9 (from memory; values agree with scipy 1.10.1
 * quadrature).
 */
public final class Conformity {
  private static final NormalDistribution NORMAL = NormalDistribution.of(0, 1);
  private static final int POINTS = 30;

  /** On -1..1; made once, since the library makes a rule anew for each panel. */
  private static final GaussIntegrator RULE = new GaussIntegratorFactory().legendre(POINTS);

  private static final double REACH = 12;

  private Conformity() {}

  /**
   * The probability that an item measured as {@code value} truly lies within the tolerance zone.
   */
  public static double probability(double value, double standardUncertainty, Zone tolerance) {
    Checks.finite(value, "value");
    Checks.positive(standardUncertainty, "standardUncertainty");
    return within(value, standardUncertainty, tolerance);
  }

  private static double within(double centre, double sd, Zone zone) {
    double low = (zone.lower() - centre) / sd;
    double high = (zone.upper() - centre) / sd;
    // From the nearer tail, so that small probabilities keep their digits.
    return low > 0
        ? NORMAL.survivalProbability(low) - NORMAL.survivalProbability(high)
        : NORMAL.cumulativeProbability(high) - NORMAL.cumulativeProbability(low);
  }

  /**
   * The guard band at one limit with which an accepted item conforms with at least a probability,
   * whatever its value: w = z u with the normal quantile z.
   */
  public static double guardBand(double standardUncertainty, double conformityProbability) {
    Checks.positive(standardUncertainty, "standardUncertainty");
    return standardUncertainty * DistributionQuantiles.normal(conformityProbability);
  }

  /**
   * The guard band at both limits of a zone with which an accepted item conforms with at least a
   * probability; wider than that of one limit where the zone is narrow against u.
   *
   * @throws IllegalArgumentException when no value within the zone reaches the probability
   */
  public static double guardBand(
      double standardUncertainty, double conformityProbability, Zone tolerance) {
    double oneLimit = guardBand(standardUncertainty, conformityProbability);
    if (Double.isInfinite(tolerance.lower()) || Double.isInfinite(tolerance.upper())) {
      return oneLimit;
    }
    double half = 0.5 * (tolerance.upper() - tolerance.lower());
    UnivariateFunction missing =
        w -> within(tolerance.upper() - w, standardUncertainty, tolerance) - conformityProbability;
    if (!(missing.value(half) > 0)) {
      throw new IllegalArgumentException(
          "standardUncertainty must be smaller against the zone for a conformity probability of "
              + conformityProbability
              + ", was "
              + standardUncertainty);
    }
    if (missing.value(oneLimit) >= 0) {
      return oneLimit;
    }
    return new BrentSolver(1e-14, 1e-15 * half).solve(200, missing, oneLimit, half);
  }

  /**
   * The risks over a production.
   *
   * @param mean of the production
   * @param sd of the production, above 0
   * @param standardUncertainty of one measurement
   * @param tolerance what conforms
   * @param acceptance what is accepted
   */
  public static Risks risks(
      double mean, double sd, double standardUncertainty, Zone tolerance, Zone acceptance) {
    Checks.finite(mean, "mean");
    Checks.positive(sd, "sd");
    Checks.positive(standardUncertainty, "standardUncertainty");
    UnivariateFunction density = value -> NORMAL.density((value - mean) / sd) / sd;
    UnivariateFunction accepted = value -> within(value, standardUncertainty, acceptance);
    UnivariateFunction rejected = value -> outside(value, standardUncertainty, acceptance);
    double least = mean - REACH * sd;
    double most = mean + REACH * sd;
    double low = Math.max(least, Math.min(most, tolerance.lower()));
    double high = Math.max(least, Math.min(most, tolerance.upper()));
    double panel = 0.5 * Math.min(sd, 4 * standardUncertainty);
    double consumer =
        integral(v -> density.value(v) * accepted.value(v), least, low, panel)
            + integral(v -> density.value(v) * accepted.value(v), high, most, panel);
    double producer = integral(v -> density.value(v) * rejected.value(v), low, high, panel);
    return new Risks(consumer, producer);
  }

  private static double outside(double centre, double sd, Zone zone) {
    return NORMAL.cumulativeProbability((zone.lower() - centre) / sd)
        + NORMAL.survivalProbability((zone.upper() - centre) / sd);
  }

  private static double integral(UnivariateFunction f, double from, double to, double panel) {
    if (!(from < to)) {
      return 0;
    }
    int panels = (int) Math.min(2000, Math.ceil((to - from) / panel));
    double half = (to - from) / panels / 2;
    double sum = 0;
    for (int i = 0; i < panels; i++) {
      double middle = from + (2 * i + 1) * half;
      for (int p = 0; p < POINTS; p++) {
        sum += RULE.getWeight(p) * f.value(middle + half * RULE.getPoint(p));
      }
    }
    return sum * half;
  }
}
