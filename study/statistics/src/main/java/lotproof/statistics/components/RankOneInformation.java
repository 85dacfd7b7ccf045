package lotproof.statistics.components;

import java.util.Arrays;

/**
 * The observed information of a log-likelihood, learned on the way: the average information, and a
 * correction that makes it agree with how the score has changed along the last steps (symmetric
 * rank one update). It costs nothing beyond the score, and steps with it come to the top faster
 * than in proportion to the distance.
 *
 * <p>The correction is kept apart from the average information, which is exact at each point, so
 * that only the difference of the two has to be learned. It does not depend on the units of the
 * variances. A climb on nearly the same likelihood begins with what is known from the other one.
 *
 * <p>Sources: symmetric rank one update and the condition under which it is left out: Nocedal and
 * Wright (2006), Numerical Optimization, section 6.2; learning a part of the curvature: Dennis, Gay
 * and Welsch (1981), ACM Transactions on Mathematical Software 7 (both from memory).
 */
final class RankOneInformation {
  /** Cosine between step and missing change below which an update would only add noise. */
  private static final double LEAST_COSINE = 1e-6;

  private final double[][] correction;
  private double[] point = new double[0];
  private double[] slope = new double[0];

  /** Nothing is known yet. */
  RankOneInformation(int components) {
    this(new double[components][components]);
  }

  private RankOneInformation(double[][] correction) {
    this.correction = correction;
  }

  /**
   * Begins with the correction at another top, component by component in proportion to the inverse
   * of the variances, as informations are; exact where the two likelihoods differ by the unit.
   *
   * @param theta about where the top will be, in the order of the components of the fit
   */
  static RankOneInformation like(ComponentsFit fit, double[] theta) {
    double[] there = fit.scaledVariances();
    double[][] correction = fit.scaledCorrection();
    double[] share = new double[theta.length];
    for (int k = 0; k < share.length; k++) {
      share[k] = there[k] > 0 && theta[k] > 0 ? there[k] / theta[k] : 0;
    }
    for (int k = 0; k < share.length; k++) {
      for (int l = 0; l < share.length; l++) {
        correction[k][l] *= share[k] * share[l];
      }
    }
    return new RankOneInformation(correction);
  }

  /** Goes on elsewhere on the same likelihood: what was learned stays, the last point does not. */
  void leave() {
    point = new double[0];
  }

  /**
   * Learns from the step that led here from the last point, if there was one.
   *
   * @param theta variances, finite
   * @param score slopes of the log-likelihood there
   * @param average average information there, positive on the diagonal
   * @return approximate observed information, square; along the last step it is exact on average
   */
  double[][] at(double[] theta, double[] score, double[][] average) {
    if (point.length > 0) {
      learn(theta, score, average);
    }
    point = theta.clone();
    slope = score.clone();
    return corrected(average);
  }

  /** The curvature as far as it is known, at a point with this average information. */
  double[][] corrected(double[][] average) {
    double[][] result = new double[average.length][average.length];
    for (int k = 0; k < average.length; k++) {
      for (int l = 0; l < average.length; l++) {
        result[k][l] = average[k][l] + correction[k][l];
      }
    }
    return result;
  }

  private void learn(double[] theta, double[] score, double[][] average) {
    int n = theta.length;
    double[] step = new double[n];
    Arrays.setAll(step, k -> theta[k] - point[k]);
    double[][] believed = corrected(average);
    double[] missing = new double[n];
    double ofMissing = 0;
    double ofStep = 0;
    for (int k = 0; k < n; k++) {
      missing[k] = slope[k] - score[k] - Dense.dot(believed[k], step);
      ofMissing += missing[k] * missing[k] / average[k][k];
      ofStep += step[k] * step[k] * average[k][k];
    }
    double product = Dense.dot(missing, step);
    if (!(Math.abs(product) > LEAST_COSINE * Math.sqrt(ofMissing * ofStep))) {
      return;
    }
    for (int k = 0; k < n; k++) {
      for (int l = 0; l < n; l++) {
        correction[k][l] += missing[k] * missing[l] / product;
      }
    }
  }
}
