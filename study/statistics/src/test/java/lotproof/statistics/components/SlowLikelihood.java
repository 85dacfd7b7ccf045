package lotproof.statistics.components;

import org.apache.commons.math3.linear.Array2DRowRealMatrix;
import org.apache.commons.math3.linear.ArrayRealVector;
import org.apache.commons.math3.linear.LUDecomposition;
import org.apache.commons.math3.linear.MatrixUtils;
import org.apache.commons.math3.linear.RealMatrix;
import org.apache.commons.math3.linear.RealVector;

/**
 * Second oracle: the likelihood of all single observations straight from its definition, with the
 * full covariance matrix and no reduction, scaling or shared code.
 */
final class SlowLikelihood {
  private final Observations observations;
  private final int n;
  private final RealMatrix x;
  private final RealVector y;

  SlowLikelihood(Observations observations) {
    this.observations = observations;
    this.y = new ArrayRealVector(observations.values());
    this.n = y.getDimension();
    int columns = observations.fixedColumns().size();
    this.x = new Array2DRowRealMatrix(n, columns + 1);
    for (int i = 0; i < n; i++) {
      x.setEntry(i, 0, 1);
      for (int c = 0; c < columns; c++) {
        double[] column = observations.fixedColumns().get(c).values();
        double mean = java.util.Arrays.stream(column).average().orElseThrow();
        x.setEntry(i, c + 1, column[i] - mean);
      }
    }
  }

  RealMatrix covarianceOf(int k) {
    if (k == observations.factors().size()) {
      return MatrixUtils.createRealIdentityMatrix(n);
    }
    int[] level = observations.factors().get(k).levelOf();
    RealMatrix v = new Array2DRowRealMatrix(n, n);
    for (int i = 0; i < n; i++) {
      for (int j = 0; j < n; j++) {
        v.setEntry(i, j, level[i] == level[j] ? 1 : 0);
      }
    }
    return v;
  }

  RealMatrix covariance(double[] theta) {
    RealMatrix v = new Array2DRowRealMatrix(n, n);
    for (int k = 0; k < theta.length; k++) {
      v = v.add(covarianceOf(k).scalarMultiply(theta[k]));
    }
    return v;
  }

  RealMatrix projection(double[] theta) {
    RealMatrix inverse = new LUDecomposition(covariance(theta), 1e-14).getSolver().getInverse();
    RealMatrix vx = inverse.multiply(x);
    RealMatrix gram = x.transpose().multiply(vx);
    RealMatrix middle = new LUDecomposition(gram).getSolver().getInverse();
    return inverse.subtract(vx.multiply(middle).multiply(vx.transpose()));
  }

  double minusTwoLog(double[] theta) {
    LUDecomposition v = new LUDecomposition(covariance(theta), 1e-14);
    RealMatrix gram = x.transpose().multiply(v.getSolver().solve(x));
    RealVector py = projection(theta).operate(y);
    int free = n - x.getColumnDimension();
    double result = free * Math.log(2 * Math.PI) + logDeterminant(v, n) + y.dotProduct(py);
    int columns = gram.getRowDimension();
    return result + logDeterminant(new LUDecomposition(gram), columns);
  }

  private static double logDeterminant(LUDecomposition lu, int n) {
    double sum = 0;
    for (int i = 0; i < n; i++) {
      sum += Math.log(Math.abs(lu.getU().getEntry(i, i)));
    }
    return sum;
  }

  /** Slope of the log-likelihood by central differences, one-sided at zero. */
  double slope(double[] theta, int k, double step) {
    double[] above = theta.clone();
    double[] below = theta.clone();
    above[k] += step;
    below[k] = Math.max(0, below[k] - step);
    return -0.5 * (minusTwoLog(above) - minusTwoLog(below)) / (above[k] - below[k]);
  }

  RealVector values() {
    return y;
  }
}
