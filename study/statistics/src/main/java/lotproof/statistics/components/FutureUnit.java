package lotproof.statistics.components;

import java.util.Arrays;
import java.util.Collections;
import java.util.List;
import lotproof.statistics.Checks;
import lotproof.statistics.DistributionQuantiles;
import lotproof.statistics.FoldedNormal;
import lotproof.statistics.ModifiedLargeSample;
import lotproof.statistics.linear.Dense;
import lotproof.statistics.linear.SmallMatrix;

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

  /**
   * Independent mean squares that stand in for those of an analysis of variance where a study is
   * not balanced, from the inverse information of the fit.
   *
   * <p>Construction, C = I^-1 (all components, those at zero included), components ordered from the
   * finest, the residual: phi_a = theta_o(a) + sum over b before a of w_ab phi_b with w_ab = max(0,
   * -cov(theta_o(a), phi_b) / var(phi_b)), that is Gram-Schmidt in the metric C. phi = T theta. In
   * a balanced study the phi are the expected mean squares up to scale. Degrees of freedom nu_a =
   * max(1, 2 phiHat_a^2 / var(phi_a)), phiHat = T theta at the estimates.
   *
   * <p>This is a construction made for this purpose. For balanced studies it equals the textbook;
   * for others its evidence is simulation (docs/guarantees.md), not a theorem.
   */
  static final class PseudoMeanSquares {
    private static final double SMALLEST_PHI_SHARE = 0.02;

    /** Component of each mean square. */
    final int[] order;

    /** Rows of T, columns in the order of the fit's components. */
    final double[][] t;

    /** T theta_M, theta_M the unconstrained variances, at least 0.02 phiHat. */
    final double[] phi;

    final double[] nu;

    /** Margins of the mean squares by a positive and by a negative coefficient. */
    private final double[] above;

    private final double[] below;

    PseudoMeanSquares(ComponentsFit fit, double confidence) {
      List<Integer> finestFirst = fit.data().coarsestFirst();
      finestFirst.add(fit.data().factors());
      Collections.reverse(finestFirst);
      order = finestFirst.stream().mapToInt(k -> k).toArray();
      double[][] covariance =
          SmallMatrix.inverse(fit.scaledInformation())
              .orElseThrow(() -> new IllegalStateException("information is singular"));
      int n = order.length;
      t = new double[n][n];
      nu = new double[n];
      double[] variance = new double[n];
      double[] theta = fit.scaledVariances();
      for (int a = 0; a < n; a++) {
        t[a][order[a]] = 1;
        for (int b = 0; b < a; b++) {
          double shared = Dense.dot(covariance[order[a]], t[b]);
          Dense.addScaled(t[a], 0, Math.max(0, -shared / variance[b]), t[b], 0, n);
        }
        variance[a] = SmallMatrix.quadratic(covariance, t[a]);
        double estimate = Dense.dot(t[a], theta);
        nu[a] = Math.max(1, 2 * estimate * estimate / variance[a]);
      }
      phi = SmallMatrix.times(t, fit.unconstrainedVariances());
      double[] least = SmallMatrix.times(t, fit.variances());
      Arrays.setAll(phi, a -> Math.max(phi[a], SMALLEST_PHI_SHARE * least[a]));
      above = Arrays.stream(nu).map(df -> ModifiedLargeSample.above(df, confidence)).toArray();
      below = Arrays.stream(nu).map(df -> ModifiedLargeSample.below(df, confidence)).toArray();
    }

    /** Margin of a mean square relative to it, H where it counts with a positive sign, else G. */
    double margin(int a, boolean positive) {
      return positive ? above[a] : below[a];
    }

    /** Coefficients a with weights' theta = a' phi, that is a = T'^-1 weights. */
    double[] coefficients(double[] weights) {
      int n = nu.length;
      double[] left = weights.clone();
      double[] result = new double[n];
      // each row of T adds one component that no earlier row has: peel from the coarsest
      for (int a = n - 1; a >= 0; a--) {
        result[a] = left[order[a]];
        Dense.addScaled(left, 0, -result[a], t[a], 0, n);
      }
      return result;
    }
  }
}
