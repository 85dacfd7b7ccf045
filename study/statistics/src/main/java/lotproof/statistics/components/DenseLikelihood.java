package lotproof.statistics.components;

import java.util.Arrays;
import java.util.Optional;
import lotproof.statistics.linear.Dense;
import lotproof.statistics.linear.SmallMatrix;

/**
 * The likelihood through the full covariance matrix of the rows: cubic in the rows, but sound where
 * the residual is zero and the remaining components still make V positive definite.
 */
final class DenseLikelihood extends Likelihood {
  private final int n;
  private double[] theta = new double[0];
  private double[] projection = new double[0];
  private double[][] whitened = new double[0][];
  private double[][] covariance = new double[0][];

  DenseLikelihood(CellMeans data) {
    super(data);
    this.n = data.rows;
  }

  @Override
  double rowLogLikelihood(double[] point) {
    theta = point.clone();
    double[] v = new double[n * n];
    int residual = data.factors();
    for (int i = 0; i < n; i++) {
      for (int j = 0; j <= i; j++) {
        double sum = i == j ? theta[residual] / data.readings[i] : 0;
        for (int k = 0; k < residual; k++) {
          sum += data.level[k][i] == data.level[k][j] ? theta[k] : 0;
        }
        v[i * n + j] = sum;
      }
    }
    if (!Dense.cholesky(v, n)) {
      return Double.NEGATIVE_INFINITY;
    }
    double logDeterminant = Dense.logDeterminant(v, n);
    double[] inverse = Dense.inverse(v, n);
    int columns = data.fixed.length;
    whitened = new double[columns][];
    for (int c = 0; c < columns; c++) {
      whitened[c] = multiply(inverse, data.fixed[c]);
    }
    double[][] gram = new double[columns][columns];
    for (int a = 0; a < columns; a++) {
      for (int b = 0; b < columns; b++) {
        gram[a][b] = Dense.dot(data.fixed[a], whitened[b]);
      }
    }
    Optional<double[][]> solved = SmallMatrix.inverse(gram);
    if (solved.isEmpty()) {
      return Double.NEGATIVE_INFINITY;
    }
    covariance = solved.get();
    projection = inverse;
    for (int a = 0; a < columns; a++) {
      double[] spread = new double[n];
      for (int b = 0; b < columns; b++) {
        Dense.addScaled(spread, 0, covariance[a][b], whitened[b], 0, n);
      }
      for (int i = 0; i < n; i++) {
        Dense.addScaled(projection, i * n, -whitened[a][i], spread, 0, n);
      }
    }
    double quadratic = Dense.dot(data.y, multiply(projection, data.y));
    return -0.5 * (logDeterminant + SmallMatrix.logDeterminant(gram) + quadratic);
  }

  @Override
  double[] point() {
    return theta;
  }

  @Override
  double[] project(double[] v) {
    return multiply(projection, v);
  }

  @Override
  double[][] project(double[][] v) {
    double[][] result = new double[n][v[0].length];
    for (int c = 0; c < v[0].length; c++) {
      double[] column = new double[n];
      for (int j = 0; j < n; j++) {
        // mostly zero where levels are told apart
        if (v[j][c] != 0) {
          Dense.addScaled(column, 0, v[j][c], projection, j * n, n);
        }
      }
      for (int i = 0; i < n; i++) {
        result[i][c] = column[i];
      }
    }
    return result;
  }

  private double[] multiply(double[] matrix, double[] v) {
    double[] result = new double[n];
    for (int i = 0; i < n; i++) {
      result[i] = Dense.dot(matrix, i * n, v, 0, n);
    }
    return result;
  }

  @Override
  double[][] fixedCovariance() {
    return covariance;
  }

  @Override
  double[][] whitenedFixed() {
    return whitened;
  }

  @Override
  double[] rowDiagonal() {
    double[] result = new double[n];
    Arrays.setAll(result, i -> projection[i * n + i]);
    return result;
  }

  @Override
  double[] levelDiagonal(int k) {
    int[] level = data.level[k];
    double[] result = new double[data.levelCount[k]];
    for (int i = 0; i < n; i++) {
      for (int j = 0; j < n; j++) {
        result[level[i]] += level[i] == level[j] ? projection[i * n + j] : 0;
      }
    }
    return result;
  }
}
