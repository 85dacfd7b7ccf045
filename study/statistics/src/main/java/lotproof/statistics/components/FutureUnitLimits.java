package lotproof.statistics.components;

import java.util.List;
import java.util.Set;
import lotproof.statistics.Checks;

/**
 * Limits for a unit that nobody has measured yet (a future kit), from a fit of variance components:
 * with the stated confidence they hold at least the stated content of all future units.
 *
 * <p>Modified large sample limits on {@link FutureUnit.PseudoMeanSquares}. With weights t (1 for a
 * component that belongs to the future unit, 0 for an excluded one), a = t'T^-1 and q = g'T^-1, g
 * the gradient of the variance of the mean, and H = nu / chi2(1 - confidence; nu) - 1, G = 1 - nu /
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

  /**
   * Computes the limits of one future unit.
   *
   * @param excluded components that a future unit does not have, such as a residual that is proven
   *     to be the bench's
   */
  public static FutureUnitLimits of(
      ComponentsFit fit, Set<Component> excluded, double content, double confidence) {
    Part part = new Part(fit, ComponentWeights.without(excluded));
    return ofSum(List.of(part), 0, content, confidence);
  }

  /**
   * One of the independent studies that a future unit is put together from.
   *
   * @param fit fit of that study
   * @param weights how its components enter the future unit
   */
  public record Part(ComponentsFit fit, ComponentWeights weights) {}

  /**
   * Limits of a future unit that is the sum of parts from independent studies, such as a cell that
   * was studied on a reference board and a board that was studied on a reference cell. The pseudo
   * mean squares of all parts enter the same formulas.
   *
   * @param parts at least one
   * @param shift known value that is added to the sum of the parts' means
   */
  public static FutureUnitLimits ofSum(
      List<Part> parts, double shift, double content, double confidence) {
    Checks.fraction(content, "content");
    return new FutureUnit(parts, shift, confidence).limits(content);
  }
}
