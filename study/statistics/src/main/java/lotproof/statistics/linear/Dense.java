package lotproof.statistics.linear;

/**
 * Kernels on square matrices kept row by row in one array. Commons Math keeps an array for each row
 * and solves one column at a time; a fit needs the factor and the whole inverse thousands of times.
 */
public final class Dense {
  private Dense() {}

  /**
   * Replaces the lower triangle by its Cholesky factor.
   *
   * @return false when the matrix is not positive definite within rounding
   */
  public static boolean cholesky(double[] a, int n) {
    double largest = 0;
    for (int i = 0; i < n; i++) {
      largest = Math.max(largest, a[i * n + i]);
    }
    return cholesky(a, n, smallestPivot(largest, n));
  }

  /** The same; pivots at or below the smallest say that the matrix is not positive definite. */
  public static boolean cholesky(double[] a, int n, double smallestPivot) {
    for (int i = 0; i < n; i++) {
      for (int j = 0; j < i; j++) {
        a[i * n + j] = (a[i * n + j] - dot(a, i * n, a, j * n, j)) / a[j * n + j];
      }
      double pivot = a[i * n + i] - dot(a, i * n, a, i * n, i);
      if (!(pivot > smallestPivot)) {
        return false;
      }
      a[i * n + i] = Math.sqrt(pivot);
    }
    return true;
  }

  /** Pivots at or below this are rounding. */
  public static double smallestPivot(double largestDiagonal, int n) {
    return 4e-16 * n * largestDiagonal;
  }

  public static double dot(double[] a, int aStart, double[] b, int bStart, int length) {
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

  public static double dot(double[] a, double[] b) {
    return dot(a, 0, b, 0, a.length);
  }

  public static void addScaled(
      double[] target, int start, double factor, double[] source, int from, int n) {
    for (int k = 0; k < n; k++) {
      target[start + k] += factor * source[from + k];
    }
  }

  public static double logDeterminant(double[] factor, int n) {
    double sum = 0;
    for (int i = 0; i < n; i++) {
      sum += Math.log(factor[i * n + i]);
    }
    return 2 * sum;
  }

  /** Whole symmetric inverse from the Cholesky factor, row by row of L and then of L'. */
  public static double[] inverse(double[] factor, int n) {
    double[] x = new double[n * n];
    for (int i = 0; i < n; i++) {
      double diagonal = 1 / factor[i * n + i];
      for (int k = 0; k < i; k++) {
        addScaled(x, i * n, -factor[i * n + k] * diagonal, x, k * n, k + 1);
      }
      x[i * n + i] = diagonal;
    }
    // L' X = Y from the last row up; only the lower half of X is needed
    for (int k = n - 1; k >= 0; k--) {
      double diagonal = 1 / factor[k * n + k];
      for (int j = 0; j <= k; j++) {
        x[k * n + j] *= diagonal;
      }
      for (int i = 0; i < k; i++) {
        addScaled(x, i * n, -factor[k * n + i], x, k * n, i + 1);
        x[i * n + k] = x[k * n + i];
      }
    }
    return x;
  }

  /** Solves L x = v in place. */
  public static void solveLower(double[] factor, int n, double[] v) {
    for (int i = 0; i < n; i++) {
      v[i] = (v[i] - dot(factor, i * n, v, 0, i)) / factor[i * n + i];
    }
  }

  /** Solves L' x = v in place. */
  public static void solveUpper(double[] factor, int n, double[] v) {
    for (int i = n - 1; i >= 0; i--) {
      v[i] /= factor[i * n + i];
      addScaled(v, 0, -v[i], factor, i * n, i);
    }
  }
}
