package lotproof.statistics.components;

import java.util.List;
import java.util.Set;

/**
 * Limits for a unit that nobody has measured yet (a future kit), from a fit of variance components:
 * with the stated confidence they hold at least the stated content of all future units.
 *
 * <p>Modified large sample limits on {@link PseudoMeanSquares}. With weights t (1 for a component
 * that belongs to the future unit, 0 for an excluded one), a = t'T^-1 and q = g'T^-1, g the
 * gradient of the variance of the mean, and H = nu / chi2(1 - confidence; nu) - 1, G = 1 - nu /
 * chi2(confidence; nu):
 *
 * <ul>
 *   <li>tau^2 = max(0, sum a phi); tauU^2 = max(tau^2 + sqrt(sum (a phi B)^2), t'theta), with B = H
 *       where a is above 0 and G elsewhere
 *   <li>w^2 = max(0, sum q phi), nu_w = w^4 / sum((q phi)^2 / nu), tq = t quantile (confidence;
 *       max(1, nu_w)), wm = w min(1.2, sqrt(tauU / tau)), wt = min(w tauU / tau, sqrt(w^2 +
 *       sqrt(sum (q phi B)^2)))
 *   <li>upper = mean + z tau + sqrt((tq wm)^2 + z^2 (tauU - tau)^2), z the normal quantile of the
 *       content; lower by reflection
 *   <li>two-sided half width F(wt, tauU), F(m, s) the A with Phi((A - m)/s) - Phi((-A - m)/s) =
 *       content
 *   <li>symmetric about zero: A0 + sqrt((F(|mean| + tq wm, tau) - A0)^2 + (F(|mean|, tauU) -
 *       A0)^2), A0 = F(|mean|, tau)
 * </ul>
 *
 * <p>Assumes normal effects. Balanced studies: textbook modified large sample limits. Others: a
 * construction whose confidence is measured by simulation (docs/guarantees.md). With few lots the
 * limits are wide, because few lots say little.
 *
 * <p>Sources: Graybill and Wang (1980), J. Amer. Statist. Assoc. 75; Ting, Burdick, Graybill,
 * Jeyaratnam and Lu (1990) for negative coefficients; Krishnamoorthy and Lian, closed-form
 * approximate tolerance intervals (first two from memory).
 *
 * @param mean fitted mean
 * @param totalSd tau, standard deviation of a future unit
 * @param totalSdUpper tauU, its upper confidence limit
 * @param meanStandardError w
 * @param meanDegreesOfFreedom nu_w
 * @param effectiveDegreesOfFreedom Satterthwaite's degrees of freedom of tau^2; misleadingly high
 *     where a component is estimated as zero
 * @param content share of future units within the limits, 0.95 means 95 %
 * @param confidence share of studies whose limits keep the promise
 * @param lower lower limit, on its own
 * @param upper upper limit, on its own
 * @param twoSidedHalfWidth D of the limits mean - D and mean + D
 * @param symmetricHalfWidth A of the limits -A and +A, the mean included
 */
public record FutureUnitLimits(
    double mean,
    double totalSd,
    double totalSdUpper,
    double meanStandardError,
    double meanDegreesOfFreedom,
    double effectiveDegreesOfFreedom,
    double content,
    double confidence,
    double lower,
    double upper,
    double twoSidedHalfWidth,
    double symmetricHalfWidth) {

  private static final double MOST_MEAN_INFLATION = 1.2;

  /**
   * Computes the limits of one future unit.
   *
   * @param finestFirst component names from the finest: residual, pair, board, cell, board lot,
   *     cell lot, those present
   * @param excluded components that a future unit does not have, such as a residual that is proven
   *     to be the bench's
   */
  public static FutureUnitLimits of(
      ComponentsFit fit,
      List<String> finestFirst,
      Set<String> excluded,
      double content,
      double confidence) {
    Checks.fraction(content, "content");
    Checks.fraction(confidence, "confidence");
    for (String name : excluded) {
      fit.index(name);
    }
    PseudoMeanSquares squares = PseudoMeanSquares.of(fit, finestFirst);
    Spread spread = Spread.of(fit, squares, excluded, confidence);
    return spread.limits(fit, content, confidence);
  }

  /** Step values that the limits share; lengths in units of the observations. */
  private record Spread(
      double tau, double tauUpper, double w, double nuW, double wUpper, double effective) {

    static Spread of(
        ComponentsFit fit, PseudoMeanSquares squares, Set<String> excluded, double confidence) {
      List<String> names = fit.componentNames();
      double unit = fit.data().scale * fit.data().scale;
      double[] weights = new double[names.size()];
      double remlVariance = 0;
      for (int k = 0; k < weights.length; k++) {
        weights[k] = excluded.contains(names.get(k)) ? 0 : 1;
        remlVariance += weights[k] * fit.scaledVariances()[k];
      }
      double[] a = squares.coefficients(weights);
      double[] q = squares.coefficients(fit.meanVarianceGradient());
      double[] phi = squares.phi();
      double[] nu = squares.nu();
      double variance = 0;
      double meanVariance = 0;
      double margin = 0;
      double meanMargin = 0;
      double meanSpread = 0;
      for (int i = 0; i < phi.length; i++) {
        double scaledPhi = phi[i] / unit;
        double h = nu[i] / Quantiles.chiSquared(1 - confidence, nu[i]) - 1;
        double g = 1 - nu[i] / Quantiles.chiSquared(confidence, nu[i]);
        double part = a[i] * scaledPhi;
        double meanPart = q[i] * scaledPhi;
        variance += part;
        meanVariance += meanPart;
        margin += square(part * (a[i] > 0 ? h : g));
        meanMargin += square(meanPart * (q[i] > 0 ? h : g));
        meanSpread += meanPart * meanPart / nu[i];
      }
      double tau2 = Math.max(0, variance);
      double upper2 = Math.max(tau2 + Math.sqrt(margin), remlVariance);
      // unconstrained components below zero can leave nothing for the mean, which no study shows
      double w2 = meanVariance > 0 ? meanVariance : square(fit.meanStandardError()) / unit;
      double nuW = meanSpread > 0 ? meanVariance * meanVariance / meanSpread : 1;
      return new Spread(
          Math.sqrt(tau2 * unit),
          Math.sqrt(upper2 * unit),
          Math.sqrt(w2 * unit),
          nuW,
          Math.sqrt((w2 + Math.sqrt(meanMargin)) * unit),
          satterthwaite(fit, weights, remlVariance));
    }

    private static double satterthwaite(ComponentsFit fit, double[] weights, double variance) {
      double spread =
          SmallMatrix.solve(fit.scaledInformation(), weights)
              .map(solved -> Dense.dot(weights, solved))
              .orElseThrow(() -> new IllegalStateException("information is singular"));
      return spread > 0 ? 2 * variance * variance / spread : 0;
    }

    FutureUnitLimits limits(ComponentsFit fit, double content, double confidence) {
      double mean = fit.mean();
      double z = Quantiles.normal(content);
      double tq = Quantiles.student(confidence, Math.max(1, nuW));
      double ratio = tau > 0 ? tauUpper / tau : Double.POSITIVE_INFINITY;
      double meanMargin = tq * w * Math.min(MOST_MEAN_INFLATION, Math.sqrt(ratio));
      double widened = w > 0 ? w * ratio : 0;
      double wt = Math.min(widened, wUpper);
      double oneSided = z * tau + Math.hypot(meanMargin, z * (tauUpper - tau));
      double size = Math.abs(mean);
      double base = FoldedNormal.halfWidth(size, tau, content);
      double byMean = FoldedNormal.halfWidth(size + meanMargin, tau, content) - base;
      double bySpread = FoldedNormal.halfWidth(size, tauUpper, content) - base;
      return new FutureUnitLimits(
          mean,
          tau,
          tauUpper,
          w,
          nuW,
          effective,
          content,
          confidence,
          mean - oneSided,
          mean + oneSided,
          FoldedNormal.halfWidth(wt, tauUpper, content),
          base + Math.hypot(byMean, bySpread));
    }

    private static double square(double value) {
      return value * value;
    }
  }
}
