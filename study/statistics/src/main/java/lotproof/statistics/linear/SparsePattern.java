package lotproof.statistics.linear;

import java.util.List;

/**
 * Where a sparse symmetric matrix and its Cholesky factor L have entries below the diagonal, and
 * what can be done on such matrices. Values lie column by column in one array, the diagonal first,
 * then the rows of the pattern in rising order.
 *
 * <p>Source: Davis (2006), Direct Methods for Sparse Linear Systems, chapter 4 (from memory).
 */
public final class SparsePattern {
  private final int n;
  private final int[] start;
  private final int[] row;

  /**
   * A pattern.
   *
   * @param below for each column the rows below the diagonal in rising order, closed under
   *     elimination: all but the first of a column belong to the column of the first, too
   */
  public SparsePattern(List<int[]> below) {
    n = below.size();
    start = new int[n + 1];
    for (int j = 0; j < n; j++) {
      start[j + 1] = start[j] + 1 + below.get(j).length;
    }
    row = new int[start[n]];
    for (int j = 0; j < n; j++) {
      row[start[j]] = j;
      System.arraycopy(below.get(j), 0, row, start[j] + 1, below.get(j).length);
    }
  }

  public int columns() {
    return n;
  }

  public int size() {
    return row.length;
  }

  /** Place of the first entry of a column, its diagonal. */
  public int start(int column) {
    return start[column];
  }

  /** Row of the entry at a place. */
  public int row(int place) {
    return row[place];
  }

  /** Place of the entry of two columns that share one. */
  public int place(int one, int other) {
    int column = Math.min(one, other);
    int wanted = Math.max(one, other);
    int low = start[column];
    int high = start[column + 1] - 1;
    while (low < high) {
      int middle = (low + high) / 2;
      if (row[middle] < wanted) {
        low = middle + 1;
      } else {
        high = middle;
      }
    }
    return low;
  }

  /** Whether the rows of some places follow one another. */
  private boolean contiguous(int from, int to) {
    return row[to - 1] - row[from] == to - 1 - from;
  }

  /** target[rows of the places] += factor times the values. */
  private void add(double[] target, double factor, double[] values, int from, int to) {
    if (from < to && contiguous(from, to)) {
      Dense.addScaled(target, row[from], factor, values, from, to - from);
      return;
    }
    for (int q = from; q < to; q++) {
      target[row[q]] += factor * values[q];
    }
  }

  /** Sum of the values times v[rows of the places]. */
  private double dot(double[] values, double[] v, int from, int to) {
    if (from < to && contiguous(from, to)) {
      return Dense.dot(values, from, v, row[from], to - from);
    }
    double sum = 0;
    for (int q = from; q < to; q++) {
      sum += values[q] * v[row[q]];
    }
    return sum;
  }

  /** Both at once, so that values are fetched once: the sum, and target += factor times them. */
  private double dotAndAdd(
      double[] values, double[] v, double[] target, int from, int to, double factor) {
    double even = 0;
    double odd = 0;
    int q = from;
    for (; q + 1 < to; q += 2) {
      int one = row[q];
      int other = row[q + 1];
      even += values[q] * v[one];
      odd += values[q + 1] * v[other];
      target[one] += factor * values[q];
      target[other] += factor * values[q + 1];
    }
    if (q < to) {
      even += values[q] * v[row[q]];
      target[row[q]] += factor * values[q];
    }
    return even + odd;
  }

  /** Replaces a matrix by its factor, column by column; false when not positive definite. */
  public boolean cholesky(double[] a) {
    double largest = 0;
    for (int j = 0; j < n; j++) {
      largest = Math.max(largest, a[start[j]]);
    }
    double smallestPivot = Dense.smallestPivot(largest, n);
    double[] work = new double[n];
    // columns whose next entry lies in a row, as a list for each row: first of it, and who follows
    int[] first = new int[n];
    int[] following = new int[n];
    int[] next = new int[n];
    java.util.Arrays.fill(first, -1);
    for (int j = 0; j < n; j++) {
      int from = start[j];
      int to = start[j + 1];
      for (int q = from; q < to; q++) {
        work[row[q]] = a[q];
      }
      for (int k = first[j]; k >= 0; ) {
        int after = following[k];
        add(work, -a[next[k]], a, next[k], start[k + 1]);
        next[k]++;
        enlist(k, next, first, following);
        k = after;
      }
      if (!(work[j] > smallestPivot)) {
        return false;
      }
      double root = Math.sqrt(work[j]);
      a[from] = root;
      for (int q = from + 1; q < to; q++) {
        a[q] = work[row[q]] / root;
      }
      next[j] = from + 1;
      enlist(j, next, first, following);
    }
    return true;
  }

  private void enlist(int column, int[] next, int[] first, int[] following) {
    if (next[column] < start[column + 1]) {
      int r = row[next[column]];
      following[column] = first[r];
      first[r] = column;
    }
  }

  public double logDeterminant(double[] factor) {
    double sum = 0;
    for (int j = 0; j < n; j++) {
      sum += Math.log(factor[start[j]]);
    }
    return 2 * sum;
  }

  /** Solves L x = v in place. */
  public void solveLower(double[] factor, double[] v) {
    for (int j = 0; j < n; j++) {
      v[j] /= factor[start[j]];
      add(v, -v[j], factor, start[j] + 1, start[j + 1]);
    }
  }

  /** Solves L' x = v in place. */
  public void solveUpper(double[] factor, double[] v) {
    for (int j = n - 1; j >= 0; j--) {
      v[j] = (v[j] - dot(factor, v, start[j] + 1, start[j + 1])) / factor[start[j]];
    }
  }

  /** Solves L L' X = V in place, V one array for each row. */
  public void solve(double[] factor, double[][] v) {
    for (int j = 0; j < n; j++) {
      divide(v[j], factor[start[j]]);
      for (int q = start[j] + 1; q < start[j + 1]; q++) {
        Dense.addScaled(v[row[q]], 0, -factor[q], v[j], 0, v[j].length);
      }
    }
    for (int j = n - 1; j >= 0; j--) {
      for (int q = start[j] + 1; q < start[j + 1]; q++) {
        Dense.addScaled(v[j], 0, -factor[q], v[row[q]], 0, v[j].length);
      }
      divide(v[j], factor[start[j]]);
    }
  }

  private static void divide(double[] v, double by) {
    double factor = 1 / by;
    for (int i = 0; i < v.length; i++) {
      v[i] *= factor;
    }
  }

  /**
   * Entries of the inverse inside the pattern, at a small part of the cost of the whole: with Z the
   * inverse, Z_ij = -(1/L_jj) sum of L_kj Z_ki over the k below j, from the last column to the
   * first; what a column needs lies inside the pattern again.
   *
   * <p>Source: Takahashi, Fagan and Chen (1973), and Erisman and Tinney (1975), Communications of
   * the ACM 18 (from memory).
   */
  public double[] inverse(double[] factor) {
    double[] z = new double[row.length];
    double[] line = new double[n];
    double[] sums = new double[n];
    for (int j = n - 1; j >= 0; j--) {
      int from = start[j] + 1;
      int to = start[j + 1];
      double pivot = factor[start[j]];
      for (int q = from; q < to; q++) {
        line[row[q]] = factor[q] / pivot;
        sums[row[q]] = 0;
      }
      for (int q = from; q < to; q++) {
        int i = row[q];
        int below = start[i] + 1;
        int end = start[i + 1];
        sums[i] += z[start[i]] * line[i] + dotAndAdd(z, line, sums, below, end, line[i]);
      }
      double diagonal = 1 / (pivot * pivot);
      for (int q = from; q < to; q++) {
        int i = row[q];
        z[q] = -sums[i];
        diagonal += line[i] * sums[i];
        line[i] = 0;
      }
      z[start[j]] = diagonal;
    }
    return z;
  }
}
