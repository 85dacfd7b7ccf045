package lotproof.statistics.tolerance;

import org.apache.commons.statistics.distribution.NormalDistribution;

/**
 * Failure(k) = Integral of g(s) Pr(Z &gt; sqrt(N) (k s - z)) ds, where g is the density of s /
 * sigma.
 *
 * <p>With s = exp(w) the integrand is analytic and falls off fast on both sides, so the trapezoidal
 * rule converges geometrically, for one degree of freedom as for a million. The weights are scaled
 * to sum to one, which spares the gamma function and its cancellation. No tail is found by
 * subtraction.
 */
final class OverTheSpread implements OneSidedRule {
  private static final NormalDistribution NORMAL = NormalDistribution.of(0, 1);

  /** Weights below this share of the greatest are left out. */
  private static final double NEGLIGIBLE_LOG = -46;

  private final double rootN;
  private final double degreesOfFreedom;
  private final double contentQuantile;
  private final double[] ratio;
  private final double[] weight;

  OverTheSpread(double rootN, double degreesOfFreedom, double contentQuantile) {
    this.rootN = rootN;
    this.degreesOfFreedom = degreesOfFreedom;
    this.contentQuantile = contentQuantile;
    // The density g is 1/sqrt(2 nu) wide in w, and the normal tail at least 1/(z sqrt(N) + 2).
    double tail = rootN * Math.abs(contentQuantile) + 2;
    double step = Math.min(0.12, 0.5 / Math.sqrt(2 * degreesOfFreedom + tail * tail));
    int below = 0;
    while (logWeight(-(below + 1) * step) > NEGLIGIBLE_LOG) {
      below++;
    }
    int above = 0;
    while (logWeight((above + 1) * step) > NEGLIGIBLE_LOG) {
      above++;
    }
    this.ratio = new double[below + above + 1];
    this.weight = new double[ratio.length];
    double sum = 0;
    for (int i = 0; i < ratio.length; i++) {
      double w = (i - below) * step;
      ratio[i] = Math.exp(w);
      weight[i] = Math.exp(logWeight(w));
      sum += weight[i];
    }
    for (int i = 0; i < weight.length; i++) {
      weight[i] /= sum;
    }
  }

  /** The log density of ln(s / sigma), less its value at the mode w = 0. */
  private double logWeight(double w) {
    return degreesOfFreedom * (w - 0.5 * Math.expm1(2 * w));
  }

  private double margin(int i, double factor) {
    return rootN * (factor * ratio[i] - contentQuantile);
  }

  @Override
  public double failure(double factor) {
    double sum = 0;
    for (int i = 0; i < ratio.length; i++) {
      sum += weight[i] * NORMAL.survivalProbability(margin(i, factor));
    }
    return sum;
  }

  @Override
  public double success(double factor) {
    double sum = 0;
    for (int i = 0; i < ratio.length; i++) {
      sum += weight[i] * NORMAL.cumulativeProbability(margin(i, factor));
    }
    return sum;
  }

  @Override
  public double slope(double factor) {
    double sum = 0;
    for (int i = 0; i < ratio.length; i++) {
      sum += weight[i] * rootN * ratio[i] * NORMAL.density(margin(i, factor));
    }
    return sum;
  }
}
