package lotproof.statistics.components;

/**
 * Kernels on square matrices kept row by row in one array. Commons Math keeps an array for each row
 * and solves one column at a time; a fit needs the factor and the whole inverse thousands of times.
 *
 * <p>The compiler makes vector instructions of a loop when everything in it is an array of its own,
 * walked with one index; of rows that lie at different places of one array it does not. So the
 * kernels copy the rows they work on, each into an array, and add four rows to a fifth at a time:
 * three times as fast, copies included.
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
    double smallestPivot = smallestPivot(largestDiagonal(a, n), n);
    if (n <= BLOCK) {
      int[] rowStart = new int[n];
      for (int i = 0; i < n; i++) {
        rowStart[i] = i * n;
      }
      return Envelope.factor(a, new int[n], rowStart, smallestPivot);
    }
    // worked on as its transpose, because the rows of U = L' are what the updates run along
    transposeLowerToUpper(a, n);
    double[][] panel = new double[BLOCK][n];
    double[] line = new double[n];
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
      subtractBlock(a, n, start, end, panel, line);
    }
    transposeUpperToLower(a, n);
    return true;
  }

  /** Pivots at or below this are rounding. */
  static double smallestPivot(double largestDiagonal, int n) {
    return 4e-16 * n * largestDiagonal;
  }

  private static double largestDiagonal(double[] a, int n) {
    double largest = 0;
    for (int i = 0; i < n; i++) {
      largest = Math.max(largest, a[i * n + i]);
    }
    return largest;
  }

  /** The rows from end on, each from its diagonal on, less what the rows start..end of U say. */
  private static void subtractBlock(
      double[] a, int n, int start, int end, double[][] panel, double[] line) {
    int rows = end - start;
    for (int k = 0; k < rows; k++) {
      System.arraycopy(a, (start + k) * n + end, panel[k], end, n - end);
    }
    for (int i = end; i < n; i++) {
      System.arraycopy(a, i * n + i, line, i, n - i);
      int k = 0;
      for (; k + 3 < rows; k += 4) {
        double[] p0 = panel[k];
        double[] p1 = panel[k + 1];
        double[] p2 = panel[k + 2];
        double[] p3 = panel[k + 3];
        addFour(line, i, n, -p0[i], p0, -p1[i], p1, -p2[i], p2, -p3[i], p3);
      }
      for (; k < rows; k++) {
        addOne(line, i, n, -panel[k][i], panel[k]);
      }
      System.arraycopy(line, i, a, i * n + i, n - i);
    }
  }

  /** Adds four rows to a target between two columns. */
  private static void addFour(
      double[] target,
      int from,
      int to,
      double f0,
      double[] s0,
      double f1,
      double[] s1,
      double f2,
      double[] s2,
      double f3,
      double[] s3) {
    for (int j = from; j < to; j++) {
      target[j] += (f0 * s0[j] + f1 * s1[j]) + (f2 * s2[j] + f3 * s3[j]);
    }
  }

  private static void addOne(double[] target, int from, int to, double factor, double[] source) {
    for (int j = from; j < to; j++) {
      target[j] += factor * source[j];
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

  /**
   * Adds rows of a matrix to a target row: for each c in from..to, the row that {@code rows[c]}
   * names, times {@code factors[c]}.
   */
  static void addRows(
      double[] target, double[] factors, double[][] matrix, int[] rows, int from, int to) {
    int n = target.length;
    int c = from;
    for (; c + 3 < to; c += 4) {
      addFour(
          target,
          0,
          n,
          factors[c],
          matrix[rows[c]],
          factors[c + 1],
          matrix[rows[c + 1]],
          factors[c + 2],
          matrix[rows[c + 2]],
          factors[c + 3],
          matrix[rows[c + 3]]);
    }
    for (; c < to; c++) {
      addOne(target, 0, n, factors[c], matrix[rows[c]]);
    }
  }

  /** The rows of a matrix, each in an array of its own. */
  static double[][] rows(double[] matrix, int count, int width) {
    double[][] result = new double[count][width];
    for (int i = 0; i < count; i++) {
      System.arraycopy(matrix, i * width, result[i], 0, width);
    }
    return result;
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
    double[][] lower = invertLower(factor, n);
    double[][] product = new double[n][n];
    // row i of Y'Y gathers rows k >= i of Y; blocks of i keep four rows of Y in reach
    for (int start = 0; start < n; start += BLOCK) {
      int end = Math.min(n, start + BLOCK);
      for (int k = start; k < n; k += 4) {
        int last = Math.min(n, k + 4);
        for (int i = start; i < Math.min(end, last); i++) {
          gather(product[i], lower, k, last, i);
        }
      }
    }
    double[] result = new double[n * n];
    for (int i = 0; i < n; i++) {
      System.arraycopy(product[i], 0, result, i * n, i + 1);
    }
    transposeLowerToUpper(result, n);
    return result;
  }

  /** Adds rows k..last of Y, each times its entry in column i, up to column i. */
  private static void gather(double[] target, double[][] y, int k, int last, int i) {
    if (last - k == 4) {
      double[] y0 = y[k];
      double[] y1 = y[k + 1];
      double[] y2 = y[k + 2];
      double[] y3 = y[k + 3];
      addFour(target, 0, i + 1, y0[i], y0, y1[i], y1, y2[i], y2, y3[i], y3);
      return;
    }
    for (int m = k; m < last; m++) {
      addOne(target, 0, i + 1, y[m][i], y[m]);
    }
  }

  /** L^-1, rows; entries above the diagonal are zero. */
  private static double[][] invertLower(double[] factor, int n) {
    double[][] y = new double[n][n];
    for (int start = 0; start < n; start += BLOCK) {
      int end = Math.min(n, start + BLOCK);
      for (int k = 0; k < start; k += 4) {
        int to = Math.min(k + 4, start);
        for (int i = start; i < end; i++) {
          int at = i * n + k;
          addFour(
              y[i],
              0,
              to,
              -factor[at],
              y[k],
              -factor[at + 1],
              y[k + 1],
              -factor[at + 2],
              y[k + 2],
              -factor[at + 3],
              y[k + 3]);
        }
      }
      for (int i = start; i < end; i++) {
        for (int k = start; k < i; k++) {
          addOne(y[i], 0, k + 1, -factor[i * n + k], y[k]);
        }
        double diagonal = 1 / factor[i * n + i];
        for (int j = 0; j < i; j++) {
          y[i][j] *= diagonal;
        }
        y[i][i] = diagonal;
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
