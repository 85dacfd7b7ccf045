package lotproof.statistics.components;

import java.util.List;
import lotproof.statistics.Checks;
import lotproof.statistics.DistributionQuantiles;
import lotproof.statistics.FoldedNormal;
import lotproof.statistics.linear.Dense;

/**
 * What a study knows of the distribution of a unit that nobody has measured yet: its mean and its
 * standard deviation, with modified large sample limits from {@link PseudoMeanSquares}. The
 * formulas stand at {@link FutureUnitLimits}.
 */
public final class FutureUnit {
  private static final double MOST_MEAN_INFLATION = 1.2;

  private final double confidence;
  private double mean;
  private double variance;
  private double marginAbove;
  private double marginBelow;
  private double remlVariance;
  private double meanVariance;
  private double meanMargin;
  private double meanSpread;
  private double informationSpread;

  /**
   * A unit that is the sum of parts from independent studies.
   *
   * @param parts at least one
   * @param shift known value that is added to the sum of the parts' means
   * @param confidence of each limit, in 0..1
   */
  public FutureUnit(List<FutureUnitLimits.Part> parts, double shift, double confidence) {
    this.confidence = Checks.fraction(confidence, "confidence");
    this.mean = shift;
    parts.forEach(this::add);
  }

  private void add(FutureUnitLimits.Part part) {
    ComponentsFit fit = part.fit();
    mean += fit.mean();
    double[] theta = fit.variances();
    double[] member = part.weights().ofUnit(fit.components());
    double[] gradient = fit.meanVarianceGradient();
    double[] extra = part.weights().ofMean(fit.components());
    Dense.addScaled(gradient, 0, 1, extra, 0, gradient.length);
    PseudoMeanSquares squares = new PseudoMeanSquares(fit, confidence);
    double[] ofUnit = squares.coefficients(member);
    double[] ofMean = squares.coefficients(gradient);
    double estimate = 0;
    double spread = 0;
    for (int i = 0; i < theta.length; i++) {
      double share = ofUnit[i] * squares.phi[i];
      double meanShare = ofMean[i] * squares.phi[i];
      variance += share;
      estimate += meanShare;
      marginAbove += square(share * squares.margin(i, ofUnit[i] > 0));
      marginBelow += square(share * squares.margin(i, ofUnit[i] <= 0));
      meanMargin += square(meanShare * squares.margin(i, ofMean[i] > 0));
      spread += meanShare * meanShare / squares.nu[i];
    }
    // unconstrained components below zero can leave nothing for the mean, which no study shows
    double fallback = Dense.dot(gradient, theta);
    meanVariance += estimate > 0 ? estimate : fallback;
    meanSpread += estimate > 0 ? spread : fallback * fallback;
    remlVariance += Dense.dot(member, theta);
    informationSpread += fit.varianceOf(member);
  }

  /** Fitted mean. */
  public double mean() {
    return mean;
  }

  /** Standard deviation by the variances of the fit, those at zero included as zero. */
  public double fittedSd() {
    return Math.sqrt(remlVariance);
  }

  /** tau, from the unconstrained variances. */
  double sd() {
    return Math.sqrt(Math.max(0, variance));
  }

  /** tauU, the upper limit of the standard deviation. */
  public double sdUpper() {
    return Math.sqrt(Math.max(Math.max(0, variance) + Math.sqrt(marginAbove), remlVariance));
  }

  /** The lower limit of the standard deviation, 0 or above. */
  public double sdLower() {
    return Math.sqrt(Math.max(0, variance - Math.sqrt(marginBelow)));
  }

  private double meanStandardError() {
    return Math.sqrt(meanVariance);
  }

  private double meanDegreesOfFreedom() {
    return meanSpread > 0 ? meanVariance * meanVariance / meanSpread : 1;
  }

  private double effectiveDegreesOfFreedom() {
    return informationSpread > 0 ? 2 * remlVariance * remlVariance / informationSpread : 0;
  }

  /** wt, 0 where the mean is known. */
  private double widenedMeanError() {
    double w = meanStandardError();
    return w > 0 ? Math.min(w * ratio(), Math.sqrt(meanVariance + Math.sqrt(meanMargin))) : 0;
  }

  private double ratio() {
    return sd() > 0 ? sdUpper() / sd() : Double.POSITIVE_INFINITY;
  }

  /** tq wm, how far the mean may be off to one side. */
  private double meanMargin() {
    double t = DistributionQuantiles.student(Math.max(1, meanDegreesOfFreedom()), confidence);
    return t * meanStandardError() * Math.min(MOST_MEAN_INFLATION, Math.sqrt(ratio()));
  }

  /** Limits that hold a content of all such units. */
  public FutureUnitLimits limits(double content) {
    double z = DistributionQuantiles.normal(Checks.fraction(content, "content"));
    double tau = sd();
    double tauUpper = sdUpper();
    double margin = meanMargin();
    double oneSided = z * tau + Math.hypot(margin, z * (tauUpper - tau));
    double size = Math.abs(mean);
    double base = FoldedNormal.halfWidth(size, tau, content);
    double byMean = FoldedNormal.halfWidth(size + margin, tau, content) - base;
    double bySpread = FoldedNormal.halfWidth(size, tauUpper, content) - base;
    return new FutureUnitLimits(
        mean,
        tau,
        tauUpper,
        meanStandardError(),
        meanDegreesOfFreedom(),
        effectiveDegreesOfFreedom(),
        content,
        confidence,
        mean - oneSided,
        mean + oneSided,
        FoldedNormal.halfWidth(widenedMeanError(), tauUpper, content),
        base + Math.hypot(byMean, bySpread));
  }

  /**
   * Lower confidence bound of a distance from the mean, in standard deviations: the z whose
   * one-sided limit z tau + sqrt((tq wm)^2 + z^2 (tauU - tau)^2) lies at that distance, for z below
   * zero with tau less its lower limit. The upper bound is minus the lower one of minus the
   * distance.
   *
   * @param distance from the mean to a limit, negative where the mean lies beyond it
   */
  public double standardized(double distance) {
    double tau = sd();
    double margin = meanMargin();
    double change = distance > margin ? sdUpper() - tau : tau - sdLower();
    double left = (tau - change) * (tau + change);
    double root = Math.sqrt(Math.max(0, square(distance * change) + margin * margin * left));
    if (distance > 0) {
      return (distance - margin) * (distance + margin) / (distance * tau + root);
    }
    return left > 0 ? (distance * tau - root) / left : Double.NEGATIVE_INFINITY;
  }

  private static double square(double value) {
    return value * value;
  }
}
