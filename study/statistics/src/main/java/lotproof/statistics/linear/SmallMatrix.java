package lotproof.statistics.linear;

import java.util.Arrays;
import java.util.Optional;

/** Positive definite matrices with a row for each component or each fixed column. */
public final class SmallMatrix {
  /** Smallest pivot, after scaling to a unit diagonal, of a matrix that counts as definite. */
  private static final double SMALLEST_PIVOT = 1e-13;

  private SmallMatrix() {}

  /** Inverse of a symmetric matrix, or nothing when it is not positive definite. */
  public static Optional<double[][]> inverse(double[][] matrix) {
    int n = matrix.length;
    double[] scale = diagonalRoots(matrix);
    return factor(matrix, scale)
        .map(
            factor -> {
              double[] flat = Dense.inverse(factor, n);
              double[][] result = new double[n][n];
              for (int i = 0; i < n; i++) {
                for (int j = 0; j < n; j++) {
                  result[i][j] = flat[i * n + j] / scale[i] / scale[j];
                }
              }
              return result;
            });
  }

  /** Solution of a symmetric system, or nothing when it is not positive definite. */
  public static Optional<double[]> solve(double[][] matrix, double[] right) {
    int n = matrix.length;
    double[] scale = diagonalRoots(matrix);
    return factor(matrix, scale)
        .map(
            factor -> {
              double[] result = new double[n];
              for (int i = 0; i < n; i++) {
                result[i] = right[i] / scale[i];
              }
              Dense.solveLower(factor, n, result);
              Dense.solveUpper(factor, n, result);
              for (int i = 0; i < n; i++) {
                result[i] /= scale[i];
              }
              return result;
            });
  }

  /** The same over some of the unknowns; the others are 0. */
  public static Optional<double[]> solve(double[][] matrix, double[] right, int[] free) {
    double[][] part = new double[free.length][free.length];
    double[] rightPart = new double[free.length];
    for (int a = 0; a < free.length; a++) {
      rightPart[a] = right[free[a]];
      for (int b = 0; b < free.length; b++) {
        part[a][b] = matrix[free[a]][free[b]];
      }
    }
    return solve(part, rightPart)
        .map(
            solved -> {
              double[] result = new double[right.length];
              for (int a = 0; a < free.length; a++) {
                result[free[a]] = solved[a];
              }
              return result;
            });
  }

  /** Log determinant of a matrix that is positive definite. */
  public static double logDeterminant(double[][] matrix) {
    double[] scale = diagonalRoots(matrix);
    double[] factor = factor(matrix, scale).orElseThrow();
    double sum = 0;
    for (int i = 0; i < scale.length; i++) {
      sum += 2 * Math.log(scale[i] * factor[i * scale.length + i]);
    }
    return sum;
  }

  public static double[] times(double[][] matrix, double[] v) {
    double[] result = new double[v.length];
    for (int i = 0; i < v.length; i++) {
      result[i] = Dense.dot(matrix[i], v);
    }
    return result;
  }

  public static double quadratic(double[][] matrix, double[] v) {
    return Dense.dot(v, times(matrix, v));
  }

  /** Unit diagonal first: components may differ by many orders of magnitude. */
  private static Optional<double[]> factor(double[][] matrix, double[] scale) {
    int n = matrix.length;
    double[] scaled = new double[n * n];
    for (int i = 0; i < n; i++) {
      if (!(scale[i] > 0)) {
        return Optional.empty();
      }
      for (int j = 0; j < i; j++) {
        scaled[i * n + j] = (matrix[i][j] + matrix[j][i]) / 2 / scale[i] / scale[j];
      }
      scaled[i * n + i] = 1;
    }
    return Dense.cholesky(scaled, n, SMALLEST_PIVOT) ? Optional.of(scaled) : Optional.empty();
  }

  private static double[] diagonalRoots(double[][] matrix) {
    double[] roots = new double[matrix.length];
    Arrays.setAll(roots, i -> Math.sqrt(matrix[i][i]));
    return roots;
  }
}
