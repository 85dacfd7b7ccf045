package lotproof.statistics.tolerance;

import lotproof.statistics.DistributionQuantiles;
import org.apache.commons.math3.analysis.UnivariateFunction;
import org.apache.commons.math3.analysis.integration.gauss.GaussIntegratorFactory;
import org.apache.commons.math3.analysis.solvers.BrentSolver;
import org.apache.commons.numbers.gamma.LogGamma;
import org.apache.commons.statistics.distribution.NormalDistribution;

/**
 * The chance that mean - k s lies below the lower and mean + k s above the upper quantile of the
 * content at once, and the factor for a wanted chance.
 *
 * <p>Success(k) = Integral over s from z/k of g(s) (2 Phi(sqrt(N) (k s - z)) - 1) ds with z the
 * normal quantile of (1 + content)/2: for a given s both ends hold when the mean lies within (k s -
 * z) sigma of the true one. In w = ln s the integrand is smooth on the half line from ln(z/k), so
 * Gauss-Legendre panels converge fast.
 */
final class EqualTailsProblem {
  private static final NormalDistribution NORMAL = NormalDistribution.of(0, 1);
  private static final GaussIntegratorFactory RULES = new GaussIntegratorFactory();
  private static final int POINTS = 24;
  private static final double NEGLIGIBLE_LOG = -46;

  private final double rootN;
  private final double degreesOfFreedom;
  private final double quantile;
  private final double logScale;
  private final double logLeast;
  private final double logMost;
  private final double widestPanel;

  EqualTailsProblem(double effectiveN, double degreesOfFreedom, double content) {
    this.rootN = Math.sqrt(effectiveN);
    this.degreesOfFreedom = degreesOfFreedom;
    this.quantile = DistributionQuantiles.normalUpper((1 - content) / 2);
    double half = 0.5 * degreesOfFreedom;
    this.logScale = Math.log(2) + half * Math.log(half) - half - LogGamma.value(half);
    this.logLeast = edge(-1e-9);
    this.logMost = edge(1e-9);
    this.widestPanel = Math.min(1, 4 / Math.sqrt(2 * degreesOfFreedom));
  }

  private double edge(double start) {
    double w = start;
    while (exponent(w) > NEGLIGIBLE_LOG) {
      w *= 1.25;
    }
    return w;
  }

  private double exponent(double w) {
    return degreesOfFreedom * (w - 0.5 * Math.expm1(2 * w));
  }

  double success(double factor) {
    double from = Math.log(quantile / factor);
    double at = Math.max(from, logLeast);
    if (at >= logMost) {
      return 0;
    }
    UnivariateFunction integrand =
        w -> {
          double margin = rootN * (factor * Math.exp(w) - quantile);
          double both = 1 - 2 * NORMAL.survivalProbability(margin);
          return Math.exp(logScale + exponent(w)) * Math.max(0, both);
        };
    double sum = 0;
    // The normal factor rises within 1/(z sqrt(N)) of its edge: narrow panels there, wider later.
    double width = Math.min(widestPanel, 1 / (rootN * Math.max(1, quantile)));
    while (at < logMost) {
      double to = Math.min(logMost, at + width);
      sum += RULES.legendre(POINTS, at, to).integrate(integrand);
      at = to;
      width = Math.min(widestPanel, 1.5 * width);
    }
    return sum;
  }

  double factor(double confidence) {
    UnivariateFunction missing = logK -> success(Math.exp(logK)) - confidence;
    double low = Math.log(quantile) - 1;
    double high = low + 2;
    while (missing.value(low) > 0) {
      low -= 1;
    }
    while (missing.value(high) < 0) {
      high += 1;
    }
    return Math.exp(new BrentSolver(1e-14, 1e-13).solve(200, missing, low, high));
  }
}
