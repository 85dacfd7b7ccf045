package lotproof.statistics.components;

import java.util.List;
import java.util.Set;
import lotproof.statistics.Checks;
import lotproof.statistics.DistributionQuantiles;

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
    for (String name : excluded) {
      fit.index(name);
    }
    Part part = new Part(fit, finestFirst, ComponentWeights.without(excluded));
    return ofSum(List.of(part), 0, content, confidence);
  }

  /**
   * One of the independent studies that a future unit is put together from.
   *
   * @param fit fit of that study
   * @param finestFirst its component names from the finest
   * @param weights how its components enter the future unit
   */
  public record Part(ComponentsFit fit, List<String> finestFirst, ComponentWeights weights) {
    public Part {
      finestFirst = List.copyOf(finestFirst);
    }
  }

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
    Checks.fraction(confidence, "confidence");
    double mean = shift;
    Spread.Sums sums = new Spread.Sums();
    for (Part part : parts) {
      mean += part.fit().mean();
      sums.add(part, confidence);
    }
    return Spread.of(sums).limits(mean, content, confidence);
  }

  /**
   * Distances of confidence limits from mean squares, relative to them: H above, G below. Each is
   * worked out when it is asked for first.
   */
  static final class Margins {
    private final double[] nu;
    private final double confidence;
    private final double[] above;
    private final double[] below;

    Margins(double[] nu, double confidence) {
      this.nu = nu;
      this.confidence = confidence;
      this.above = new double[nu.length];
      this.below = new double[nu.length];
    }

    double nu(int i) {
      return nu[i];
    }

    /** H where the mean square counts with a positive sign, else G. */
    double of(int i, boolean positive) {
      double[] known = positive ? above : below;
      if (known[i] == 0) {
        known[i] =
            positive
                ? nu[i] / DistributionQuantiles.chiSquare(nu[i], 1 - confidence) - 1
                : 1 - nu[i] / DistributionQuantiles.chiSquare(nu[i], confidence);
      }
      return known[i];
    }
  }

  /** Step values that the limits share; lengths in units of the observations. */
  record Spread(
      double tau, double tauUpper, double w, double nuW, double wUpper, double effective) {

    static Spread of(Sums sums) {
      double tau2 = Math.max(0, sums.variance);
      double upper2 = Math.max(tau2 + Math.sqrt(sums.margin), sums.remlVariance);
      double w2 = sums.meanVariance;
      double nuW = sums.meanSpread > 0 ? w2 * w2 / sums.meanSpread : 1;
      double effective =
          sums.informationSpread > 0
              ? 2 * sums.remlVariance * sums.remlVariance / sums.informationSpread
              : 0;
      return new Spread(
          Math.sqrt(tau2),
          Math.sqrt(upper2),
          Math.sqrt(w2),
          nuW,
          Math.sqrt(w2 + Math.sqrt(sums.meanMargin)),
          effective);
    }

    /** Sums over the pseudo mean squares of all parts. */
    static final class Sums {
      private double variance;
      private double margin;
      private double remlVariance;
      private double meanVariance;
      private double meanMargin;
      private double meanSpread;
      private double informationSpread;

      private void add(Part part, double confidence) {
        ComponentsFit fit = part.fit();
        PseudoMeanSquares squares = PseudoMeanSquares.of(fit, part.finestFirst());
        List<String> names = fit.componentNames();
        double[] weights = part.weights().ofUnit(names);
        double[] gradient = fit.meanVarianceGradient();
        double[] extra = part.weights().ofMean(names);
        double[] theta = fit.variances();
        double own = 0;
        double declared = 0;
        for (int k = 0; k < weights.length; k++) {
          own += weights[k] * theta[k];
          declared += extra[k] * theta[k];
          gradient[k] += extra[k];
        }
        double fallback = square(fit.meanStandardError()) + declared;
        add(
            squares.coefficients(weights),
            squares.coefficients(gradient),
            squares.phi(),
            new Margins(squares.nu(), confidence),
            own,
            fallback);
        informationSpread += satterthwaite(fit, weights);
      }

      /**
       * Adds the mean squares of one part.
       *
       * @param a coefficients of the future unit's variance
       * @param q coefficients of the variance of the mean
       * @param own the future unit's variance from the estimates at or above zero
       * @param fallback variance of the mean where the mean squares leave none
       */
      void add(double[] a, double[] q, double[] phi, Margins margins, double own, double fallback) {
        double ofMean = 0;
        double ofMeanSpread = 0;
        for (int i = 0; i < phi.length; i++) {
          double share = a[i] * phi[i];
          double meanShare = q[i] * phi[i];
          variance += share;
          ofMean += meanShare;
          margin += square(share * margins.of(i, a[i] > 0));
          meanMargin += square(meanShare * margins.of(i, q[i] > 0));
          ofMeanSpread += meanShare * meanShare / margins.nu(i);
        }
        // unconstrained components below zero can leave nothing for the mean, which no study shows
        boolean usable = ofMean > 0;
        meanVariance += usable ? ofMean : fallback;
        meanSpread += usable ? ofMeanSpread : fallback * fallback;
        remlVariance += own;
      }

      private static double satterthwaite(ComponentsFit fit, double[] weights) {
        double unit = fit.data().scale * fit.data().scale;
        double spread =
            SmallMatrix.solve(fit.scaledInformation(), weights)
                .map(solved -> Dense.dot(weights, solved))
                .orElseThrow(() -> new IllegalStateException("information is singular"));
        return spread * unit * unit;
      }
    }

    private double ratio() {
      return tau > 0 ? tauUpper / tau : Double.POSITIVE_INFINITY;
    }

    private double meanMargin(double confidence) {
      double tq = DistributionQuantiles.student(Math.max(1, nuW), confidence);
      return tq * w * Math.min(MOST_MEAN_INFLATION, Math.sqrt(ratio()));
    }

    /** The symmetric limits alone. */
    double symmetricHalfWidth(double mean, double content, double confidence) {
      return symmetric(Math.abs(mean), meanMargin(confidence), content);
    }

    private double symmetric(double size, double meanMargin, double content) {
      double base = FoldedNormal.halfWidth(size, tau, content);
      double byMean = FoldedNormal.halfWidth(size + meanMargin, tau, content) - base;
      double bySpread = FoldedNormal.halfWidth(size, tauUpper, content) - base;
      return base + Math.hypot(byMean, bySpread);
    }

    FutureUnitLimits limits(double mean, double content, double confidence) {
      double z = DistributionQuantiles.normal(content);
      double ratio = ratio();
      double meanMargin = meanMargin(confidence);
      double widened = w > 0 ? w * ratio : 0;
      double wt = Math.min(widened, wUpper);
      double oneSided = z * tau + Math.hypot(meanMargin, z * (tauUpper - tau));
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
          symmetric(Math.abs(mean), meanMargin, content));
    }

    private static double square(double value) {
      return value * value;
    }
  }
}
