package lotproof.statistics.components;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;

/**
 * Eigenvectors of a small symmetric matrix, each as long as the root of its eigenvalue, so that
 * their outer products add up to the positive part of the matrix. Cyclic Jacobi rotations, which
 * for some ten rows are quicker than a reduction to tridiagonal form.
 *
 * <p>Source: Golub and Van Loan, Matrix Computations, section on Jacobi methods (from memory).
 */
public final class SymmetricRoots {
  private static final int MOST_SWEEPS = 50;

  /** Off-diagonal squares relative to the diagonal's that count as zero. */
  private static final double SMALLEST_OFF = 1e-20;

  /** Relative to the largest eigenvalue; what is smaller is rounding. */
  private static final double SMALLEST_EIGENVALUE = 1e-12;

  private SymmetricRoots() {}

  /** Longest first; none for a matrix without a positive eigenvalue. */
  public static List<double[]> of(double[][] matrix) {
    int n = matrix.length;
    double[][] a = new double[n][n];
    double[][] v = new double[n][n];
    for (int i = 0; i < n; i++) {
      for (int j = 0; j < n; j++) {
        a[i][j] = (matrix[i][j] + matrix[j][i]) / 2;
      }
      v[i][i] = 1;
    }
    for (int sweep = 0; sweep < MOST_SWEEPS && !isDiagonal(a); sweep++) {
      for (int p = 0; p < n; p++) {
        for (int q = p + 1; q < n; q++) {
          rotate(a, v, p, q);
        }
      }
    }
    double largest = 0;
    for (int i = 0; i < n; i++) {
      largest = Math.max(largest, a[i][i]);
    }
    List<double[]> roots = new ArrayList<>();
    for (int i = 0; i < n; i++) {
      if (a[i][i] > SMALLEST_EIGENVALUE * largest) {
        double length = Math.sqrt(a[i][i]);
        double[] root = new double[n];
        for (int j = 0; j < n; j++) {
          root[j] = length * v[i][j];
        }
        roots.add(root);
      }
    }
    roots.sort(Comparator.comparingDouble(root -> -Dense.dot(root, root)));
    return roots;
  }

  /** The matrix with its negative eigenvalues put to zero. */
  static double[][] positivePart(double[][] matrix) {
    int n = matrix.length;
    double[][] result = new double[n][n];
    for (double[] root : of(matrix)) {
      for (int i = 0; i < n; i++) {
        Dense.addScaled(result[i], 0, root[i], root, 0, n);
      }
    }
    return result;
  }

  private static boolean isDiagonal(double[][] a) {
    double off = 0;
    double on = 0;
    for (int i = 0; i < a.length; i++) {
      on += a[i][i] * a[i][i];
      for (int j = 0; j < i; j++) {
        off += a[i][j] * a[i][j];
      }
    }
    return !(off > SMALLEST_OFF * on);
  }

  /** Turns rows and columns p and q so that their common entry is zero; v holds vectors by row. */
  private static void rotate(double[][] a, double[][] v, int p, int q) {
    if (a[p][q] == 0) {
      return;
    }
    double half = (a[q][q] - a[p][p]) / (2 * a[p][q]);
    double t = (half >= 0 ? 1 : -1) / (Math.abs(half) + Math.sqrt(half * half + 1));
    double c = 1 / Math.sqrt(t * t + 1);
    double s = t * c;
    for (int k = 0; k < a.length; k++) {
      double x = a[k][p];
      double y = a[k][q];
      a[k][p] = c * x - s * y;
      a[k][q] = s * x + c * y;
    }
    for (int k = 0; k < a.length; k++) {
      double x = a[p][k];
      double y = a[q][k];
      a[p][k] = c * x - s * y;
      a[q][k] = s * x + c * y;
      double vx = v[p][k];
      double vy = v[q][k];
      v[p][k] = c * vx - s * vy;
      v[q][k] = s * vx + c * vy;
    }
  }
}
