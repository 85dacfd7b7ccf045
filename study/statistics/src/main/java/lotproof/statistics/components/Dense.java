package lotproof.statistics.components;

/**
 * Kernels on square matrices kept row by row in one array. Commons Math keeps an array for each row
 * and solves one column at a time; a fit needs the factor and the whole inverse thousands of times,
 * so these loops run along rows, four rows together, which the compiler turns into vector
 * instructions.
 */
final class Dense {
  /** Rows whose updates are collected before they are applied to the rest. */
  private static final int BLOCK = 32;

  private Dense() {}

  /**
   * Replaces the lower triangle by its Cholesky factor; the part above the diagonal is destroyed.
   *
   * @return false when the matrix is not positive definite within rounding
   */
  static boolean cholesky(double[] a, int n) {
    double smallestPivot = smallestPivot(a, n);
    if (n <= BLOCK) {
      return Envelope.factor(a, n, new int[n], smallestPivot);
    }
    // worked on as its transpose, because the rows of U = L' are what the updates run along
    transposeLowerToUpper(a, n);
    for (int start = 0; start < n; start += BLOCK) {
      int end = Math.min(n, start + BLOCK);
      for (int k = start; k < end; k++) {
        for (int m = start; m < k; m++) {
          addScaled(a, k * n + k, -a[m * n + k], a, m * n + k, n - k);
        }
        double pivot = a[k * n + k];
        if (!(pivot > smallestPivot)) {
          return false;
        }
        double inverse = 1 / Math.sqrt(pivot);
        for (int j = k; j < n; j++) {
          a[k * n + j] *= inverse;
        }
      }
      for (int i = end; i < n; i++) {
        subtractBlock(a, n, i, start, end);
      }
    }
    transposeUpperToLower(a, n);
    return true;
  }

  /** Pivots at or below this are rounding. */
  static double smallestPivot(double[] a, int n) {
    double largest = 0;
    for (int i = 0; i < n; i++) {
      largest = Math.max(largest, a[i * n + i]);
    }
    return 4e-16 * n * largest;
  }

  /** Row i, from its diagonal on, less what the rows start..end of U say. */
  private static void subtractBlock(double[] a, int n, int i, int start, int end) {
    int k = start;
    for (; k + 3 < end; k += 4) {
      int at = k * n + i;
      addFour(
          a,
          i * n + i,
          n - i,
          -a[at],
          a,
          at,
          -a[at + n],
          at + n,
          -a[at + 2 * n],
          at + 2 * n,
          -a[at + 3 * n],
          at + 3 * n);
    }
    for (; k < end; k++) {
      addScaled(a, i * n + i, -a[k * n + i], a, k * n + i, n - i);
    }
  }

  private static void addFour(
      double[] target,
      int start,
      int n,
      double f0,
      double[] source,
      int s0,
      double f1,
      int s1,
      double f2,
      int s2,
      double f3,
      int s3) {
    for (int j = 0; j < n; j++) {
      target[start + j] +=
          (f0 * source[s0 + j] + f1 * source[s1 + j]) + (f2 * source[s2 + j] + f3 * source[s3 + j]);
    }
  }

  private static void transposeLowerToUpper(double[] a, int n) {
    for (int i = 0; i < n; i++) {
      for (int j = 0; j < i; j++) {
        a[j * n + i] = a[i * n + j];
      }
    }
  }

  private static void transposeUpperToLower(double[] a, int n) {
    for (int i = 0; i < n; i++) {
      for (int j = 0; j < i; j++) {
        a[i * n + j] = a[j * n + i];
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

  static double dot(double[] a, double[] b) {
    return dot(a, 0, b, 0, a.length);
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
    double[] lower = invertLower(factor, n);
    double[] result = new double[n * n];
    // row i of Y'Y gathers rows k >= i of Y; blocks of i keep four rows of Y in reach
    for (int start = 0; start < n; start += BLOCK) {
      int end = Math.min(n, start + BLOCK);
      for (int k = start; k < n; k += 4) {
        int last = Math.min(n, k + 4);
        for (int i = start; i < Math.min(end, last); i++) {
          addRows(result, i * n, lower, n, k, last, i);
        }
      }
    }
    transposeLowerToUpper(result, n);
    return result;
  }

  /** Adds rows k..last of Y, each times its entry in column i, up to column i. */
  private static void addRows(double[] result, int at, double[] y, int n, int k, int last, int i) {
    if (last - k == 4) {
      addFour(
          result,
          at,
          i + 1,
          y[k * n + i],
          y,
          k * n,
          y[(k + 1) * n + i],
          (k + 1) * n,
          y[(k + 2) * n + i],
          (k + 2) * n,
          y[(k + 3) * n + i],
          (k + 3) * n);
      return;
    }
    for (int m = k; m < last; m++) {
      addScaled(result, at, y[m * n + i], y, m * n, i + 1);
    }
  }

  /** L^-1, rows; entries above the diagonal are zero. */
  private static double[] invertLower(double[] factor, int n) {
    double[] y = new double[n * n];
    for (int start = 0; start < n; start += BLOCK) {
      int end = Math.min(n, start + BLOCK);
      for (int k = 0; k < start; k += 4) {
        for (int i = start; i < end; i++) {
          int at = i * n + k;
          addFour(
              y,
              i * n,
              Math.min(k + 4, start),
              -factor[at],
              y,
              k * n,
              -factor[at + 1],
              (k + 1) * n,
              -factor[at + 2],
              (k + 2) * n,
              -factor[at + 3],
              (k + 3) * n);
        }
      }
      for (int i = start; i < end; i++) {
        for (int k = start; k < i; k++) {
          addScaled(y, i * n, -factor[i * n + k], y, k * n, k + 1);
        }
        double diagonal = 1 / factor[i * n + i];
        for (int j = 0; j < i; j++) {
          y[i * n + j] *= diagonal;
        }
        y[i * n + i] = diagonal;
      }
    }
    return y;
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
}
