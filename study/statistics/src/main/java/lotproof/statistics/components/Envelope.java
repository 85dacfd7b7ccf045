package lotproof.statistics.components;

/**
 * Cholesky factor of a matrix whose rows begin late: entries of row i before first[i] are zero and
 * stay zero in the factor. A rotation joins each board to two others only, so this costs next to
 * nothing there; a full crossing is dense and goes to {@link Dense}.
 */
final class Envelope {
  private final int n;
  private final int[] first;
  private final boolean thin;

  Envelope(int[] first) {
    this.n = first.length;
    this.first = first.clone();
    long inside = 0;
    for (int i = 0; i < n; i++) {
      inside += i - first[i];
    }
    // half of n^2 when full; short loops over half of them still cost less than the dense kernels
    this.thin = inside < (long) n * n / 4;
  }

  /** Replaces the lower triangle by its factor; false when not positive definite. */
  boolean cholesky(double[] a) {
    return thin ? factor(a, n, first, Dense.smallestPivot(a, n)) : Dense.cholesky(a, n);
  }

  static boolean factor(double[] a, int n, int[] first, double smallestPivot) {
    for (int i = 0; i < n; i++) {
      int from = first[i];
      int row = i * n;
      for (int j = from; j < i; j++) {
        int common = Math.max(from, first[j]);
        double sum = Dense.dot(a, row + common, a, j * n + common, j - common);
        a[row + j] = (a[row + j] - sum) / a[j * n + j];
      }
      double pivot = a[row + i] - Dense.dot(a, row + from, a, row + from, i - from);
      if (!(pivot > smallestPivot)) {
        return false;
      }
      a[row + i] = Math.sqrt(pivot);
    }
    return true;
  }

  /** Whole symmetric inverse. */
  double[] inverse(double[] factor) {
    if (!thin) {
      return Dense.inverse(factor, n);
    }
    double[] x = new double[n * n];
    for (int i = 0; i < n; i++) {
      for (int k = first[i]; k < i; k++) {
        Dense.addScaled(x, i * n, -factor[i * n + k], x, k * n, k + 1);
      }
      double diagonal = 1 / factor[i * n + i];
      for (int j = 0; j < i; j++) {
        x[i * n + j] *= diagonal;
      }
      x[i * n + i] = diagonal;
    }
    // L' X = Y from the last row up; only the lower half of X is needed
    for (int k = n - 1; k >= 0; k--) {
      double diagonal = 1 / factor[k * n + k];
      for (int j = 0; j <= k; j++) {
        x[k * n + j] *= diagonal;
      }
      for (int i = first[k]; i < k; i++) {
        Dense.addScaled(x, i * n, -factor[k * n + i], x, k * n, i + 1);
      }
    }
    for (int i = 0; i < n; i++) {
      for (int j = 0; j < i; j++) {
        x[j * n + i] = x[i * n + j];
      }
    }
    return x;
  }

  /** Solves L x = v in place. */
  void solveLower(double[] factor, double[] v) {
    for (int i = 0; i < n; i++) {
      int from = first[i];
      double sum = Dense.dot(factor, i * n + from, v, from, i - from);
      v[i] = (v[i] - sum) / factor[i * n + i];
    }
  }

  /** Solves L' x = v in place. */
  void solveUpper(double[] factor, double[] v) {
    for (int i = n - 1; i >= 0; i--) {
      v[i] /= factor[i * n + i];
      Dense.addScaled(v, first[i], -v[i], factor, i * n + first[i], i - first[i]);
    }
  }
}
