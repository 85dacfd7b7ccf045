package lotproof.statistics.components;

import java.util.Arrays;
import java.util.Optional;
import lotproof.statistics.linear.Dense;
import lotproof.statistics.linear.SmallMatrix;
import lotproof.statistics.linear.SparsePattern;
import org.jspecify.annotations.Nullable;

/**
 * The likelihood through Henderson's mixed model equations: V = D + Z Theta Z', D the variance of
 * each row by itself and Z the levels of all factors but the one with a level for each row. With W
 * = D^-1, lambda = sqrt(theta) and M = Z'WZ: C = I + lambda M lambda, log|V| = log|D| + log|C|, and
 * V^-1 = W - W Z lambda C^-1 lambda Z'W. A component at zero needs no special form.
 *
 * <p>Sources: Henderson's equations as in Searle, Casella and McCulloch (1992), section 7.6; Bates,
 * Maechler, Bolker and Walker (2015), J. Stat. Softw. 67(1) (both from memory).
 */
final class MixedModelEquations extends Likelihood {
  /** Stands for a variance of zero: changes no digit, and can be divided by. */
  private static final double NO_VARIANCE = 1e-200;

  final EliminationOrder order;
  private final SparsePattern pattern;
  private double[] theta = new double[0];

  /** Inverse variance of each row by itself. */
  private final double[] weight;

  /** M and the Cholesky factor of C. */
  private final double[] matrix;

  private final double[] factor;
  private final double[] lambda;

  /** Entries of C^-1 inside the pattern. */
  private double @Nullable [] inverse;

  private double @Nullable [] columnDiagonal;

  private double[][] covariance = new double[0][];
  private double @Nullable [][] whitened;

  MixedModelEquations(CellMeans data) {
    super(data);
    order = data.order();
    pattern = order.pattern;
    weight = new double[data.rows];
    matrix = new double[pattern.size()];
    factor = new double[pattern.size()];
    lambda = new double[pattern.columns()];
  }

  @Override
  double[] point() {
    return theta;
  }

  @Override
  double rowLogLikelihood(double[] point) {
    theta = point.clone();
    inverse = null;
    columnDiagonal = null;
    whitened = null;
    double residual = theta[data.factors()];
    double own = data.rowFactor < 0 ? 0 : theta[data.rowFactor];
    double logDeterminant = 0;
    for (int p = 0; p < data.rows; p++) {
      double variance = own + residual / data.readings[p];
      if (!(variance > 0)) {
        return Double.NEGATIVE_INFINITY;
      }
      weight[p] = 1 / variance;
      logDeterminant += Math.log(variance);
    }
    Arrays.fill(matrix, 0);
    for (int f = 0; f < order.factors.length; f++) {
      for (int g = f; g < order.factors.length; g++) {
        int[] places = order.place[f][g];
        for (int p = 0; p < data.rows; p++) {
          matrix[places[p]] += weight[p];
        }
      }
    }
    Arrays.setAll(lambda, j -> Math.sqrt(Math.max(theta[order.factorOfColumn[j]], NO_VARIANCE)));
    for (int j = 0; j < pattern.columns(); j++) {
      for (int q = pattern.start(j); q < pattern.start(j + 1); q++) {
        factor[q] = lambda[j] * matrix[q] * lambda[pattern.row(q)];
      }
      factor[pattern.start(j)] += 1;
    }
    if (!pattern.cholesky(factor)) {
      return Double.NEGATIVE_INFINITY;
    }
    logDeterminant += pattern.logDeterminant(factor);
    return -0.5 * (logDeterminant + fixedAndQuadratic());
  }

  /** log|X'V^-1 X| plus y'Py. */
  private double fixedAndQuadratic() {
    int columns = data.fixed.length;
    double[][] vectors = Arrays.copyOf(data.fixed, columns + 1);
    vectors[columns] = data.y;
    double[][] products = whitenedProducts(vectors);
    double[][] gram = new double[columns][columns];
    for (int a = 0; a < columns; a++) {
      for (int b = 0; b <= a; b++) {
        gram[a][b] = products[a][b];
        gram[b][a] = products[a][b];
      }
    }
    Optional<double[][]> solved = SmallMatrix.inverse(gram);
    if (solved.isEmpty()) {
      return Double.POSITIVE_INFINITY;
    }
    covariance = solved.get();
    double[] right = Arrays.copyOf(products[columns], columns);
    return products[columns][columns]
        - SmallMatrix.quadratic(covariance, right)
        + SmallMatrix.logDeterminant(gram);
  }

  /** v' V^-1 w for each pair of some vectors, the half up to the diagonal, from half a solution. */
  private double[][] whitenedProducts(double[][] vectors) {
    double[][] weighted = new double[vectors.length][];
    double[][] half = new double[vectors.length][];
    double[][] result = new double[vectors.length][vectors.length];
    for (int k = 0; k < vectors.length; k++) {
      weighted[k] = weighted(vectors[k]);
      half[k] = scaledSums(weighted[k]);
      pattern.solveLower(factor, half[k]);
      for (int l = 0; l <= k; l++) {
        result[k][l] = Dense.dot(vectors[k], weighted[l]) - Dense.dot(half[k], half[l]);
      }
    }
    return result;
  }

  private double[] weighted(double[] v) {
    double[] result = new double[v.length];
    for (int p = 0; p < v.length; p++) {
      result[p] = weight[p] * v[p];
    }
    return result;
  }

  /** lambda Z'v. */
  private double[] scaledSums(double[] v) {
    double[] sums = new double[lambda.length];
    for (int[] column : order.column) {
      for (int p = 0; p < v.length; p++) {
        sums[column[p]] += v[p];
      }
    }
    for (int j = 0; j < sums.length; j++) {
      sums[j] *= lambda[j];
    }
    return sums;
  }

  /** V^-1 v. */
  private double[] whiten(double[] v) {
    double[] sums = scaledSums(weighted(v));
    pattern.solveLower(factor, sums);
    pattern.solveUpper(factor, sums);
    for (int j = 0; j < sums.length; j++) {
      sums[j] *= lambda[j];
    }
    double[] left = v.clone();
    for (int[] column : order.column) {
      for (int p = 0; p < v.length; p++) {
        left[p] -= sums[column[p]];
      }
    }
    return weighted(left);
  }

  @Override
  double[] project(double[] v) {
    double[] result = whiten(v);
    double[][] columns = whitenedFixed();
    double[] onFixed = new double[columns.length];
    Arrays.setAll(onFixed, c -> Dense.dot(columns[c], v));
    double[] fixed = SmallMatrix.times(covariance, onFixed);
    for (int a = 0; a < columns.length; a++) {
      Dense.addScaled(result, 0, -fixed[a], columns[a], 0, result.length);
    }
    return result;
  }

  @Override
  double[][] project(double[][] v) {
    double[][] result = whiten(v);
    double[][] columns = whitenedFixed();
    int count = v[0].length;
    for (int a = 0; a < columns.length; a++) {
      double[] fixed = new double[count];
      for (int c = 0; c < columns.length; c++) {
        for (int p = 0; p < v.length; p++) {
          Dense.addScaled(fixed, 0, covariance[a][c] * columns[c][p], v[p], 0, count);
        }
      }
      for (int p = 0; p < v.length; p++) {
        Dense.addScaled(result[p], 0, -columns[a][p], fixed, 0, count);
      }
    }
    return result;
  }

  private double[][] whiten(double[][] v) {
    int count = v[0].length;
    double[][] sums = new double[lambda.length][count];
    for (int[] column : order.column) {
      for (int p = 0; p < v.length; p++) {
        Dense.addScaled(sums[column[p]], 0, weight[p] * lambda[column[p]], v[p], 0, count);
      }
    }
    pattern.solve(factor, sums);
    double[][] result = new double[v.length][count];
    for (int p = 0; p < v.length; p++) {
      Dense.addScaled(result[p], 0, weight[p], v[p], 0, count);
      for (int[] column : order.column) {
        int j = column[p];
        Dense.addScaled(result[p], 0, -weight[p] * lambda[j], sums[j], 0, count);
      }
    }
    return result;
  }

  @Override
  double[][] projectedProducts(double[][] vectors) {
    double[][] columns = whitenedFixed();
    double[][] result = whitenedProducts(vectors);
    double[][] onFixed = new double[vectors.length][columns.length];
    for (int k = 0; k < vectors.length; k++) {
      double[] vector = vectors[k];
      Arrays.setAll(onFixed[k], c -> Dense.dot(columns[c], vector));
      double[] fixed = SmallMatrix.times(covariance, onFixed[k]);
      for (int l = 0; l <= k; l++) {
        result[k][l] -= Dense.dot(fixed, onFixed[l]);
      }
    }
    return result;
  }

  @Override
  double[][] fixedCovariance() {
    return covariance;
  }

  @Override
  double[][] whitenedFixed() {
    double[][] known = whitened;
    if (known == null) {
      known = new double[data.fixed.length][];
      for (int c = 0; c < known.length; c++) {
        known[c] = whiten(data.fixed[c]);
      }
      whitened = known;
    }
    return known;
  }

  private double[] inverse() {
    double[] known = inverse;
    if (known == null) {
      known = pattern.inverse(factor);
      inverse = known;
    }
    return known;
  }

  @Override
  double[] rowDiagonal() {
    double[] entries = inverse();
    double[] result = new double[data.rows];
    for (int p = 0; p < result.length; p++) {
      double sum = 0;
      for (int f = 0; f < order.factors.length; f++) {
        double own = lambda[order.column[f][p]];
        sum += own * own * entries[order.place[f][f][p]];
        for (int g = f + 1; g < order.factors.length; g++) {
          sum += 2 * own * lambda[order.column[g][p]] * entries[order.place[f][g][p]];
        }
      }
      result[p] = weight[p] - weight[p] * weight[p] * sum;
    }
    takeFixed(result, whitenedFixed());
    return result;
  }

  /** Takes x'(X'V^-1 X)^-1 x off each entry, x its entries in some columns. */
  private void takeFixed(double[] diagonal, double[][] columns) {
    for (int a = 0; a < columns.length; a++) {
      for (int b = 0; b < columns.length; b++) {
        for (int i = 0; i < diagonal.length; i++) {
          diagonal[i] -= columns[a][i] * covariance[a][b] * columns[b][i];
        }
      }
    }
  }

  @Override
  double[] levelDiagonal(int k) {
    double[] result = new double[data.levelCount[k]];
    if (k == data.rowFactor) {
      double[] rows = rowDiagonal();
      for (int p = 0; p < rows.length; p++) {
        result[data.level[k][p]] = rows[p];
      }
      return result;
    }
    double[] diagonal = columnDiagonal();
    int[] columns = order.columnOfLevel[order.indexOf(k)];
    Arrays.setAll(result, i -> diagonal[columns[i]]);
    takeFixed(
        result, Arrays.stream(whitenedFixed()).map(v -> levelSums(k, v)).toArray(double[][]::new));
    return result;
  }

  /**
   * diag(Z'V^-1 Z): (1 - C^-1) / theta, or from lambda^-1 C^-1 lambda M, which loses no digits
   * where theta is small.
   */
  private double[] columnDiagonal() {
    double[] known = columnDiagonal;
    if (known != null) {
      return known;
    }
    double[] entries = inverse();
    double[] result = new double[lambda.length];
    for (int j = 0; j < lambda.length; j++) {
      result[j] += entries[pattern.start(j)] * matrix[pattern.start(j)];
      for (int q = pattern.start(j) + 1; q < pattern.start(j + 1); q++) {
        int i = pattern.row(q);
        result[j] += entries[q] * (lambda[i] / lambda[j]) * matrix[q];
        result[i] += entries[q] * (lambda[j] / lambda[i]) * matrix[q];
      }
    }
    for (int j = 0; j < lambda.length; j++) {
      double own = entries[pattern.start(j)];
      result[j] = own < 0.5 ? (1 - own) / (lambda[j] * lambda[j]) : result[j];
    }
    columnDiagonal = result;
    return result;
  }
}
