package lotproof.statistics.components;

import java.util.Arrays;
import org.jspecify.annotations.Nullable;

/**
 * Symmetric matrices whose rows begin late: entries of row i before first[i] are zero and stay zero
 * in the Cholesky factor. A rotation joins each board to two others only, so this costs next to
 * nothing there; a full crossing is dense and goes to {@link Dense}.
 *
 * <p>The lower triangle lies in one array, entry (i, j) at {@link #at}: only what is inside the
 * envelope where that is thin, the whole square otherwise.
 */
final class Envelope {
  private final int n;
  private final int[] first;
  private final boolean thin;

  /** Where entry (i, 0) would lie. */
  private final int[] base;

  private final int size;

  private volatile int @Nullable [][] below;

  Envelope(int[] first) {
    this.n = first.length;
    this.first = first.clone();
    long inside = n;
    for (int i = 0; i < n; i++) {
      inside += i - first[i];
    }
    // half of n^2 when full; short loops over half of them still cost less than the dense kernels
    this.thin = inside - n < (long) n * n / 4;
    this.base = new int[n];
    int next = 0;
    for (int i = 0; i < n; i++) {
      base[i] = thin ? next - first[i] : i * n;
      next += i - first[i] + 1;
    }
    this.size = thin ? (int) inside : n * n;
  }

  /** Length of the array that holds a lower triangle. */
  int size() {
    return size;
  }

  /** Place of entry (i, j), j from the first entry of row i to i. */
  int at(int i, int j) {
    return base[i] + j;
  }

  /** First entry of a row. */
  int first(int i) {
    return first[i];
  }

  /** Replaces the lower triangle by its factor; false when not positive definite. */
  boolean cholesky(double[] a) {
    if (!thin) {
      return Dense.cholesky(a, n);
    }
    double largest = 0;
    for (int i = 0; i < n; i++) {
      largest = Math.max(largest, a[base[i] + i]);
    }
    return factor(a, first, base, Dense.smallestPivot(largest, n));
  }

  static boolean factor(double[] a, int[] first, int[] base, double smallestPivot) {
    for (int i = 0; i < first.length; i++) {
      int from = first[i];
      int row = base[i];
      for (int j = from; j < i; j++) {
        int common = Math.max(from, first[j]);
        double sum = Dense.dot(a, row + common, a, base[j] + common, j - common);
        a[row + j] = (a[row + j] - sum) / a[base[j] + j];
      }
      double pivot = a[row + i] - Dense.dot(a, row + from, a, row + from, i - from);
      if (!(pivot > smallestPivot)) {
        return false;
      }
      a[row + i] = Math.sqrt(pivot);
    }
    return true;
  }

  /** Log determinant of the matrix behind a factor. */
  double logDeterminant(double[] factor) {
    double sum = 0;
    for (int i = 0; i < n; i++) {
      sum += Math.log(factor[base[i] + i]);
    }
    return 2 * sum;
  }

  /** The whole symmetric matrix, square, from its lower triangle. */
  double[] whole(double[] lower) {
    double[] result = new double[n * n];
    for (int i = 0; i < n; i++) {
      for (int j = first[i]; j <= i; j++) {
        result[i * n + j] = lower[base[i] + j];
        result[j * n + i] = lower[base[i] + j];
      }
    }
    return result;
  }

  /** Whole symmetric inverse, square. */
  double[] inverse(double[] factor) {
    if (!thin) {
      return Dense.inverse(factor, n);
    }
    double[] x = new double[n * n];
    for (int i = 0; i < n; i++) {
      for (int k = first[i]; k < i; k++) {
        Dense.addScaled(x, i * n, -factor[base[i] + k], x, k * n, k + 1);
      }
      double diagonal = 1 / factor[base[i] + i];
      for (int j = 0; j < i; j++) {
        x[i * n + j] *= diagonal;
      }
      x[i * n + i] = diagonal;
    }
    // L' X = Y from the last row up; only the lower half of X is needed
    for (int k = n - 1; k >= 0; k--) {
      double diagonal = 1 / factor[base[k] + k];
      for (int j = 0; j <= k; j++) {
        x[k * n + j] *= diagonal;
      }
      for (int i = first[k]; i < k; i++) {
        Dense.addScaled(x, i * n, -factor[base[k] + i], x, k * n, i + 1);
      }
    }
    for (int i = 0; i < n; i++) {
      for (int j = 0; j < i; j++) {
        x[j * n + i] = x[i * n + j];
      }
    }
    return x;
  }

  /**
   * Entries of the inverse inside the envelope, at a small part of the cost of the whole: with Z
   * the inverse, Z_ij = -(1/L_jj) sum of L_kj Z_ki over the k below j, from the last column to the
   * first; what a column needs lies inside the envelope again.
   *
   * <p>Source: Takahashi, Fagan and Chen (1973), and Erisman and Tinney (1975), Communications of
   * the ACM 18 (from memory).
   */
  double[] inverseInside(double[] factor) {
    if (!thin) {
      return Dense.inverse(factor, n);
    }
    double[] z = new double[size];
    int[][] below = below();
    double[] line = new double[n];
    int[] start = base;
    for (int j = n - 1; j >= 0; j--) {
      int[] rows = below[j];
      double pivot = factor[start[j] + j];
      for (int a = 0; a < rows.length; a++) {
        line[a] = factor[start[rows[a]] + j] / pivot;
      }
      double diagonal = 1 / (pivot * pivot);
      for (int a = 0; a < rows.length; a++) {
        int column = rows[a];
        int row = start[column];
        double sum = 0;
        for (int b = 0; b <= a; b++) {
          sum += line[b] * z[row + rows[b]];
        }
        for (int b = a + 1; b < rows.length; b++) {
          sum += line[b] * z[start[rows[b]] + column];
        }
        z[row + j] = -sum;
        diagonal += line[a] * sum;
      }
      z[start[j] + j] = diagonal;
    }
    return z;
  }

  /** For each column, the rows below the diagonal that are inside; worked out once. */
  private int[][] below() {
    int[][] known = below;
    if (known == null) {
      known = rowsBelow();
      below = known;
    }
    return known;
  }

  private int[][] rowsBelow() {
    int[] count = new int[n];
    for (int i = 0; i < n; i++) {
      for (int j = first[i]; j < i; j++) {
        count[j]++;
      }
    }
    int[][] result = new int[n][];
    for (int j = 0; j < n; j++) {
      result[j] = new int[count[j]];
    }
    Arrays.fill(count, 0);
    for (int i = 0; i < n; i++) {
      for (int j = first[i]; j < i; j++) {
        result[j][count[j]++] = i;
      }
    }
    return result;
  }

  /** Solves L x = v in place. */
  void solveLower(double[] factor, double[] v) {
    for (int i = 0; i < n; i++) {
      int from = first[i];
      double sum = Dense.dot(factor, base[i] + from, v, from, i - from);
      v[i] = (v[i] - sum) / factor[base[i] + i];
    }
  }

  /** Solves L' x = v in place. */
  void solveUpper(double[] factor, double[] v) {
    for (int i = n - 1; i >= 0; i--) {
      v[i] /= factor[base[i] + i];
      Dense.addScaled(v, first[i], -v[i], factor, base[i] + first[i], i - first[i]);
    }
  }
}
