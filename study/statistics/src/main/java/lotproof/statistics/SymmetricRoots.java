package lotproof.statistics;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import org.apache.commons.math3.linear.Array2DRowRealMatrix;
import org.apache.commons.math3.linear.EigenDecomposition;

/**
 * Eigenvectors of a small symmetric matrix, each as long as the root of its eigenvalue, so that
 * their outer products add up to the positive part of the matrix.
 */
public final class SymmetricRoots {
  /** Relative to the largest eigenvalue; what is smaller is rounding. */
  private static final double SMALLEST_EIGENVALUE = 1e-12;

  private SymmetricRoots() {}

  /** Longest first, each with its largest entry above zero; none without a positive eigenvalue. */
  public static List<double[]> of(double[][] matrix) {
    int n = matrix.length;
    double[][] symmetric = new double[n][n];
    for (int i = 0; i < n; i++) {
      for (int j = 0; j < n; j++) {
        symmetric[i][j] = (matrix[i][j] + matrix[j][i]) / 2;
      }
    }
    EigenDecomposition eigen = new EigenDecomposition(new Array2DRowRealMatrix(symmetric, false));
    double[] values = eigen.getRealEigenvalues();
    List<double[]> roots = new ArrayList<>();
    for (int k = 0; k < n; k++) {
      if (values[k] > SMALLEST_EIGENVALUE * Math.max(0, values[0])) {
        double[] root = eigen.getEigenvector(k).toArray();
        double largest = 0;
        for (double entry : root) {
          largest = Math.abs(entry) > Math.abs(largest) ? entry : largest;
        }
        double length = Math.copySign(Math.sqrt(values[k]), largest);
        roots.add(Arrays.stream(root).map(entry -> length * entry).toArray());
      }
    }
    return roots;
  }

  /** The matrix with its negative eigenvalues put to zero. */
  public static double[][] positivePart(double[][] matrix) {
    int n = matrix.length;
    double[][] result = new double[n][n];
    for (double[] root : of(matrix)) {
      for (int i = 0; i < n; i++) {
        for (int j = 0; j < n; j++) {
          result[i][j] += root[i] * root[j];
        }
      }
    }
    return result;
  }
}
