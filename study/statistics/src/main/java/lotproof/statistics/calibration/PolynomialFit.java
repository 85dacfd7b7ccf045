package lotproof.statistics.calibration;

import java.util.Arrays;
import lotproof.statistics.Checks;
import org.apache.commons.math3.linear.Array2DRowRealMatrix;
import org.apache.commons.math3.linear.ArrayRealVector;
import org.apache.commons.math3.linear.QRDecomposition;
import org.apache.commons.math3.linear.RealMatrix;
import org.apache.commons.math3.linear.RealVector;

/**
 * A polynomial through calibration points by ordinary least squares.
 *
 * <p>Model: output = B0 + B1 x + ... + Bd x^d + e, with errors e independent and of one standard
 * deviation. Standard errors, intervals and tests also take them as normal.
 *
 * <p>Algorithm: the load is moved and scaled to -1..1, the fit is a Householder QR decomposition in
 * powers of the scaled load (never the normal equations, which square the condition number), and
 * coefficients and covariances are carried back to powers of x. Tested on the certified values of
 * the NIST Statistical Reference Datasets Norris and Pontius; Pontius is a load-cell calibration.
 *
 * <p>Sources: NIST/SEMATECH e-Handbook, 4.4.3 and 4.6.1; JCGM 100:2008, H.3.
 */
public final class PolynomialFit {
  private final double[] x;
  private final int degree;
  private final double centre;
  private final double halfRange;
  private final RealVector scaledCoefficients;
  private final RealMatrix scaledInverse;
  private final RealMatrix back;
  private final double[] residuals;
  private final double residualSumOfSquares;

  private PolynomialFit(double[] x, double[] y, int degree) {
    this.x = x;
    this.degree = degree;
    double least = Double.POSITIVE_INFINITY;
    double most = Double.NEGATIVE_INFINITY;
    for (double value : x) {
      least = Math.min(least, value);
      most = Math.max(most, value);
    }
    this.centre = 0.5 * (least + most);
    this.halfRange = 0.5 * (most - least);
    RealMatrix design = new Array2DRowRealMatrix(x.length, degree + 1);
    for (int i = 0; i < x.length; i++) {
      design.setRowVector(i, powers(x[i]));
    }
    QRDecomposition qr = new QRDecomposition(design);
    this.scaledCoefficients = qr.getSolver().solve(new ArrayRealVector(y));
    RealMatrix r = qr.getR().getSubMatrix(0, degree, 0, degree);
    RealMatrix inverse = new QRDecomposition(r).getSolver().getInverse();
    this.scaledInverse = inverse.multiply(inverse.transpose());
    this.back = backTransformation(degree, centre, halfRange);
    RealVector fitted = design.operate(scaledCoefficients);
    this.residuals = new ArrayRealVector(y).subtract(fitted).toArray();
    double sum = 0;
    for (double residual : residuals) {
      sum += residual * residual;
    }
    this.residualSumOfSquares = sum;
  }

  /**
   * The fit of a degree.
   *
   * @param x loads, with more than {@code degree} different ones
   * @param y outputs, more than {@code degree + 1} of them
   * @param degree 1 to 6
   */
  public static PolynomialFit of(double[] x, double[] y, int degree) {
    if (degree < 1 || degree > 6) {
      throw new IllegalArgumentException("degree must lie in 1..6, was " + degree);
    }
    double[] loads = Checks.sample(x, degree + 2, "x");
    double[] outputs = Checks.sample(y, degree + 2, "y");
    Checks.sameLength(x, y, "x and y");
    long different = Arrays.stream(loads).distinct().count();
    if (different <= degree) {
      throw new IllegalArgumentException(
          "x must hold more than " + degree + " different loads, held " + different);
    }
    return new PolynomialFit(loads, outputs, degree);
  }

  private double scaled(double load) {
    return (load - centre) / halfRange;
  }

  private RealVector powers(double load) {
    RealVector row = new ArrayRealVector(degree + 1);
    double u = scaled(load);
    double power = 1;
    for (int k = 0; k <= degree; k++) {
      row.setEntry(k, power);
      power *= u;
    }
    return row;
  }

  /** Row k holds what each scaled coefficient adds to the coefficient of x^k. */
  private static RealMatrix backTransformation(int degree, double centre, double halfRange) {
    RealMatrix back = new Array2DRowRealMatrix(degree + 1, degree + 1);
    double[] power = {1};
    for (int j = 0; j <= degree; j++) {
      for (int k = 0; k <= j; k++) {
        back.setEntry(k, j, power[k]);
      }
      double[] next = new double[power.length + 1];
      for (int k = 0; k < power.length; k++) {
        next[k] -= power[k] * centre / halfRange;
        next[k + 1] += power[k] / halfRange;
      }
      power = next;
    }
    return back;
  }

  /** B0 to Bd, for powers of the load as given. */
  public double[] coefficients() {
    return back.operate(scaledCoefficients).toArray();
  }

  /** The standard errors of B0 to Bd. */
  public double[] standardErrors() {
    double[] errors = new double[degree + 1];
    for (int k = 0; k <= degree; k++) {
      errors[k] = Math.sqrt(covariance(k, k));
    }
    return errors;
  }

  /** The covariance of two coefficients. */
  public double covariance(int first, int second) {
    double variance = residualVariance();
    return variance
        * back.getRowVector(first).dotProduct(scaledInverse.operate(back.getRowVector(second)));
  }

  /** Number of points less number of coefficients. */
  public int degreesOfFreedom() {
    return x.length - degree - 1;
  }

  /** Standard deviation of the residuals, with the degrees of freedom as divisor. */
  public double residualSd() {
    return Math.sqrt(residualVariance());
  }

  private double residualVariance() {
    return residualSumOfSquares / degreesOfFreedom();
  }

  /** Output less fitted output, in the order of the points. */
  public double[] residuals() {
    return residuals.clone();
  }
}
