package lotproof.statistics.gauge;

import lotproof.statistics.Checks;
import org.apache.commons.math3.analysis.integration.gauss.GaussIntegrator;
import org.apache.commons.math3.analysis.integration.gauss.GaussIntegratorFactory;
import org.apache.commons.statistics.distribution.NormalDistribution;

/**
 * What the range of m normal values with standard deviation 1 is on average and how it scatters,
 * from its distribution.
 *
 * <p>Pr(range ≤ u) = m Integral of phi(x) (Phi(x + u) - Phi(x))^(m-1) dx; d2 = Integral of Pr(range
 * &gt; u) du, mean square = 2 Integral of u Pr(range &gt; u) du, d3² = mean square - d2². d2* =
 * sqrt(d2² + d3²/g) for the mean of g ranges. The inner integral is a trapezoidal rule over the
 * whole line, the outer one Gauss-Legendre panels; together they give about twelve digits.
 *
 * @param values m
 * @param mean d2
 * @param sd d3
 */
public record RangeConstants(int values, double mean, double sd) {
  private static final NormalDistribution NORMAL = NormalDistribution.of(0, 1);
  private static final GaussIntegratorFactory RULES = new GaussIntegratorFactory();
  private static final double REACH = 9;
  private static final double STEP = 0.25;
  private static final int POINTS = 30;

  /** The constants of the range of so many values, 2 or more. */
  public static RangeConstants of(int values) {
    Checks.atLeast(values, 2, "values");
    double mean = 0;
    double meanSquare = 0;
    for (double from = 0; from < 2 * REACH; from += 2) {
      GaussIntegrator rule = RULES.legendre(POINTS, from, from + 2);
      mean += rule.integrate(u -> exceeds(values, u));
      meanSquare += rule.integrate(u -> 2 * u * exceeds(values, u));
    }
    return new RangeConstants(values, mean, Math.sqrt(meanSquare - mean * mean));
  }

  private static double exceeds(int m, double u) {
    double sum = 0;
    for (double x = -REACH - u; x <= REACH; x += STEP) {
      double between = NORMAL.probability(x, x + u);
      sum += NORMAL.density(x) * Math.pow(between, m - 1);
    }
    return Math.max(0, 1 - m * sum * STEP);
  }

  /** d2* for the mean of so many ranges: what divides it to give a root-mean-square estimate. */
  public double meanForRanges(int ranges) {
    return Math.sqrt(mean * mean + sd * sd / Checks.atLeast(ranges, 1, "ranges"));
  }

  /** D4: three standard deviations above the mean range, in mean ranges. */
  public double upperLimitFactor() {
    return 1 + 3 * sd / mean;
  }
}
