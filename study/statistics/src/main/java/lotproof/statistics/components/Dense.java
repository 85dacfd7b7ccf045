package lotproof.statistics.components;

import java.util.Arrays;

/**
 * Kernels on square matrices kept row by row in one array. Commons Math keeps an array for each row
 * and solves one column at a time; a fit needs the factor and the whole inverse thousands of times,
 * so these loops run along rows, where the compiler can use vector instructions.
 */
final class Dense {
  /** Columns handled together, so that a panel stays in the nearest cache. */
  private static final int BLOCK = 48;

  private Dense() {}

  /**
   * Replaces the lower triangle by its Cholesky factor; the part above the diagonal is not read.
   *
   * @return false when the matrix is not positive definite within rounding
   */
  static boolean cholesky(double[] a, int n) {
    double largest = 0;
    for (int i = 0; i < n; i++) {
      largest = Math.max(largest, a[i * n + i]);
    }
    double smallestPivot = 4e-16 * n * largest;
    for (int start = 0; start < n; start += BLOCK) {
      int end = Math.min(n, start + BLOCK);
      for (int j = start; j < end; j++) {
        double pivot = a[j * n + j] - dot(a, j * n + start, a, j * n + start, j - start);
        if (!(pivot > smallestPivot)) {
          return false;
        }
        double root = Math.sqrt(pivot);
        a[j * n + j] = root;
        double inverse = 1 / root;
        for (int i = j + 1; i < n; i++) {
          double sum = dot(a, i * n + start, a, j * n + start, j - start);
          a[i * n + j] = (a[i * n + j] - sum) * inverse;
        }
      }
      subtractPanel(a, n, start, end);
    }
    return true;
  }

  /** Takes the product of the finished panel with its transpose off the rest of the matrix. */
  private static void subtractPanel(double[] a, int n, int start, int end) {
    int width = end - start;
    for (int i = end; i < n; i++) {
      for (int j = end; j <= i; j++) {
        a[i * n + j] -= dot(a, i * n + start, a, j * n + start, width);
      }
    }
  }

  static double dot(double[] a, int aStart, double[] b, int bStart, int length) {
    double s0 = 0;
    double s1 = 0;
    double s2 = 0;
    double s3 = 0;
    int k = 0;
    for (; k + 3 < length; k += 4) {
      s0 += a[aStart + k] * b[bStart + k];
      s1 += a[aStart + k + 1] * b[bStart + k + 1];
      s2 += a[aStart + k + 2] * b[bStart + k + 2];
      s3 += a[aStart + k + 3] * b[bStart + k + 3];
    }
    for (; k < length; k++) {
      s0 += a[aStart + k] * b[bStart + k];
    }
    return (s0 + s1) + (s2 + s3);
  }

  static void addScaled(
      double[] target, int start, double factor, double[] source, int from, int n) {
    for (int k = 0; k < n; k++) {
      target[start + k] += factor * source[from + k];
    }
  }

  static double logDeterminant(double[] factor, int n) {
    double sum = 0;
    for (int i = 0; i < n; i++) {
      sum += Math.log(factor[i * n + i]);
    }
    return 2 * sum;
  }

  /**
   * Whole symmetric inverse from the Cholesky factor: inverse of L, then its product with itself.
   */
  static double[] inverse(double[] factor, int n) {
    double[] lower = new double[n * n];
    double[] row = new double[n];
    for (int i = 0; i < n; i++) {
      Arrays.fill(row, 0, i, 0);
      for (int k = 0; k < i; k++) {
        addScaled(row, 0, -factor[i * n + k], lower, k * n, k + 1);
      }
      double diagonal = 1 / factor[i * n + i];
      for (int j = 0; j < i; j++) {
        lower[i * n + j] = row[j] * diagonal;
      }
      lower[i * n + i] = diagonal;
    }
    double[] result = new double[n * n];
    for (int k = 0; k < n; k++) {
      for (int i = 0; i <= k; i++) {
        addScaled(result, i * n, lower[k * n + i], lower, k * n, i + 1);
      }
    }
    for (int i = 0; i < n; i++) {
      for (int j = 0; j < i; j++) {
        result[j * n + i] = result[i * n + j];
      }
    }
    return result;
  }

  /** Solves L x = v in place. */
  static void solveLower(double[] factor, int n, double[] v) {
    for (int i = 0; i < n; i++) {
      v[i] = (v[i] - dot(factor, i * n, v, 0, i)) / factor[i * n + i];
    }
  }

  /** Solves L' x = v in place. */
  static void solveUpper(double[] factor, int n, double[] v) {
    for (int i = n - 1; i >= 0; i--) {
      v[i] /= factor[i * n + i];
      addScaled(v, 0, -v[i], factor, i * n, i);
    }
  }

  static double dot(double[] a, double[] b) {
    return dot(a, 0, b, 0, a.length);
  }
}
