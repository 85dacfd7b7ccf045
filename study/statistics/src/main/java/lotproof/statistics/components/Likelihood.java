package lotproof.statistics.components;

import java.util.Arrays;
import java.util.function.Supplier;
import lotproof.statistics.linear.Dense;
import org.jspecify.annotations.Nullable;

/**
 * Log-likelihood of the variances of a model on {@link CellMeans}, with its derivatives. One object
 * is a workspace for one thread: {@link #logLikelihood} sets the point, everything else refers to
 * the last point.
 *
 * <p>V = sum theta_k V_k over the rows, V_k = Z_k Z_k', V_residual = diag(1/r). P = V^-1 - V^-1 X
 * (X'V^-1 X)^-1 X'V^-1.
 *
 * <ul>
 *   <li>l = -1/2 [log|V| + log|X'V^-1 X| + y'Py] - 1/2 [nu log theta_e + W / theta_e]
 *   <li>score_k = -1/2 [tr(P V_k) - y'P V_k P y], residual: -1/2 [nu/theta_e - W/theta_e^2] more
 *   <li>expected information 1/2 tr(P V_k P V_l), residual: nu / (2 theta_e^2) more
 *   <li>observed information y'P V_k P V_l P y - 1/2 tr(P V_k P V_l), residual: W / theta_e^3 - nu
 *       / (2 theta_e^2) more
 *   <li>average information 1/2 y'P V_k P V_l P y, residual: W / (2 theta_e^3) more; needs no trace
 * </ul>
 *
 * <p>Source: Searle, Casella and McCulloch (1992), Variance Components, sections 6.6 and 8.3 (from
 * memory).
 */
abstract class Likelihood {
  final CellMeans data;
  private double @Nullable [] projectedValues;

  Likelihood(CellMeans data) {
    this.data = data;
  }

  /**
   * Slope and curvatures of the log-likelihood at one point. The expected information costs several
   * times as much as everything else, so it is worked out when asked for, which has to be before
   * the likelihood moves on.
   */
  static final class Derivatives {
    private final double[] score;
    private final double[][] average;
    private final Supplier<double[][]> work;
    private double @Nullable [][] expected;

    Derivatives(double[] score, double[][] average, Supplier<double[][]> work) {
      this.score = score;
      this.average = average;
      this.work = work;
    }

    double[] score() {
      return score;
    }

    /** Mean of expected and observed information; never negative along any direction. */
    double[][] average() {
      return average;
    }

    double[][] expected() {
      double[][] known = expected;
      if (known == null) {
        known = work.get();
        expected = known;
      }
      return known;
    }

    double[][] observed() {
      double[][] known = expected();
      double[][] result = new double[known.length][known.length];
      for (int k = 0; k < known.length; k++) {
        for (int l = 0; l < known.length; l++) {
          result[k][l] = 2 * average[k][l] - known[k][l];
        }
      }
      return result;
    }
  }

  /** Moves to a point. Minus infinity when V is not positive definite there. */
  final double logLikelihood(double[] theta) {
    projectedValues = null;
    double residual = theta[theta.length - 1];
    double within = 0;
    if (data.withinDegreesOfFreedom > 0) {
      if (!(residual > 0)) {
        return Double.NEGATIVE_INFINITY;
      }
      within = data.withinDegreesOfFreedom * Math.log(residual) + data.withinSquares / residual;
    }
    return rowLogLikelihood(theta) - within / 2;
  }

  /** The part of the row means. */
  abstract double rowLogLikelihood(double[] theta);

  /** The point of the last evaluation. */
  abstract double[] point();

  /** Inverse of X'V^-1 X. */
  abstract double[][] fixedCovariance();

  /** V^-1 X, one array for each column. */
  abstract double[][] whitenedFixed();

  /** diag(P). */
  abstract double[] rowDiagonal();

  /** diag(Z_k' P Z_k). */
  abstract double[] levelDiagonal(int k);

  /** P v. */
  abstract double[] project(double[] v);

  /** P times a matrix, one array for each row. */
  abstract double[][] project(double[][] v);

  /** v' P w for each pair of some vectors, the half up to the diagonal. */
  double[][] projectedProducts(double[][] vectors) {
    double[][] result = new double[vectors.length][vectors.length];
    for (int k = 0; k < vectors.length; k++) {
      double[] projected = project(vectors[k]);
      for (int l = 0; l <= k; l++) {
        result[k][l] = Dense.dot(projected, vectors[l]);
      }
    }
    return result;
  }

  /** tr(P V_k). */
  final double[] traces() {
    double[] result = new double[data.components()];
    for (int k = 0; k < data.factors(); k++) {
      for (double entry : levelDiagonal(k)) {
        result[k] += entry;
      }
    }
    double[] rows = rowDiagonal();
    for (int p = 0; p < rows.length; p++) {
      result[data.factors()] += rows[p] / data.readings[p];
    }
    return result;
  }

  final double[] projectedValues() {
    double[] result = projectedValues;
    if (result == null) {
      result = project(data.y);
      projectedValues = result;
    }
    return result;
  }

  final Derivatives derivatives() {
    int count = data.components();
    double[] trace = traces();
    double[] py = projectedValues();
    double[] score = new double[count];
    double[][] average = new double[count][count];
    double[][] moved = new double[count][];
    for (int k = 0; k < count; k++) {
      moved[k] = applyCovariance(k, py);
      score[k] = -0.5 * (trace[k] - Dense.dot(py, moved[k]));
    }
    double[][] products = projectedProducts(moved);
    for (int k = 0; k < count; k++) {
      for (int l = 0; l <= k; l++) {
        average[k][l] = products[k][l] / 2;
        average[l][k] = average[k][l];
      }
    }
    int nu = data.withinDegreesOfFreedom;
    if (nu > 0) {
      int e = count - 1;
      double theta = point()[e];
      score[e] -= 0.5 * (nu / theta - data.withinSquares / (theta * theta));
      average[e][e] += data.withinSquares / (2 * theta * theta * theta);
    }
    double[] here = point();
    return new Derivatives(score, average, () -> expected(here));
  }

  private double[][] expected(double[] where) {
    if (!Arrays.equals(where, point())) {
      throw new IllegalStateException("the likelihood has moved on from this point");
    }
    double[][] result = new ProductTraces(this).of();
    for (double[] row : result) {
      for (int l = 0; l < row.length; l++) {
        row[l] /= 2;
      }
    }
    int nu = data.withinDegreesOfFreedom;
    if (nu > 0) {
      int e = result.length - 1;
      result[e][e] += nu / (2 * where[e] * where[e]);
    }
    return result;
  }

  /** V_k v; the residual comes last. */
  final double[] applyCovariance(int k, double[] v) {
    double[] result = new double[v.length];
    if (k == data.factors()) {
      for (int p = 0; p < v.length; p++) {
        result[p] = v[p] / data.readings[p];
      }
      return result;
    }
    double[] sums = levelSums(k, v);
    int[] level = data.level[k];
    for (int p = 0; p < v.length; p++) {
      result[p] = sums[level[p]];
    }
    return result;
  }

  /** Z_k' v. */
  final double[] levelSums(int k, double[] v) {
    double[] sums = new double[data.levelCount[k]];
    int[] level = data.level[k];
    for (int p = 0; p < v.length; p++) {
      sums[level[p]] += v[p];
    }
    return sums;
  }

  /** Generalised least squares estimates of the mean and the known influences. */
  final double[] fixedEstimates() {
    double[][] whitened = whitenedFixed();
    double[][] covariance = fixedCovariance();
    double[] result = new double[whitened.length];
    for (int a = 0; a < result.length; a++) {
      for (int b = 0; b < result.length; b++) {
        result[a] += covariance[a][b] * Dense.dot(whitened[b], data.y);
      }
    }
    return result;
  }

  /** Weights h with which the fitted mean takes the rows: mean = h'y. */
  final double[] meanWeights() {
    double[][] whitened = whitenedFixed();
    double[][] covariance = fixedCovariance();
    double[] result = new double[data.rows];
    for (int a = 0; a < whitened.length; a++) {
      Dense.addScaled(result, 0, covariance[0][a], whitened[a], 0, data.rows);
    }
    return result;
  }

  /** Derivative of the variance of the fitted mean by each component: |Z_k' h|^2. */
  final double[] meanVarianceGradient() {
    double[] h = meanWeights();
    double[] gradient = new double[data.components()];
    for (int k = 0; k < gradient.length; k++) {
      gradient[k] = Dense.dot(h, applyCovariance(k, h));
    }
    return gradient;
  }
}
