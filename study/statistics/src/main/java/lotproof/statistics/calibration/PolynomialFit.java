package lotproof.statistics.calibration;

import java.util.Arrays;
import java.util.Optional;
import java.util.TreeMap;
import lotproof.statistics.Checks;
import lotproof.statistics.DistributionQuantiles;
import lotproof.statistics.Interval;
import lotproof.statistics.summary.Summary;
import org.apache.commons.math3.analysis.UnivariateFunction;
import org.apache.commons.math3.analysis.solvers.BrentSolver;
import org.apache.commons.math3.linear.Array2DRowRealMatrix;
import org.apache.commons.math3.linear.ArrayRealVector;
import org.apache.commons.math3.linear.QRDecomposition;
import org.apache.commons.math3.linear.RealMatrix;
import org.apache.commons.math3.linear.RealVector;
import org.apache.commons.statistics.distribution.FDistribution;

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
  private final double[] y;
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
    this.y = y;
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

  /** The degree of the polynomial. */
  public int degree() {
    return degree;
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

  /** The share of the sum of squares about the mean that the curve explains. */
  public double rSquared() {
    return 1 - residualSumOfSquares / totalSumOfSquares();
  }

  /** The F statistic of the curve against a constant. */
  public double fStatistic() {
    return (totalSumOfSquares() - residualSumOfSquares) / degree / residualVariance();
  }

  private double totalSumOfSquares() {
    return Summary.variance(y) * (y.length - 1);
  }

  /** The output of the curve at a load. */
  public double at(double load) {
    double u = scaled(load);
    double value = 0;
    for (int k = degree; k >= 0; k--) {
      value = value * u + scaledCoefficients.getEntry(k);
    }
    return value;
  }

  /** The standard error of the curve at a load. */
  public double standardErrorAt(double load) {
    return Math.sqrt(residualVariance() * leverage(load));
  }

  private double leverage(double load) {
    RealVector row = powers(load);
    return row.dotProduct(scaledInverse.operate(row));
  }

  /** The limits of one new reading at a load. */
  public Interval predictionInterval(double load, double confidence) {
    double half = predictionHalfWidth(load, studentQuantile(confidence));
    return new Interval(at(load) - half, at(load) + half, confidence);
  }

  private double studentQuantile(double confidence) {
    Checks.fraction(confidence, "confidence");
    return DistributionQuantiles.studentUpper(degreesOfFreedom(), (1 - confidence) / 2);
  }

  private double predictionHalfWidth(double load, double t) {
    return t * Math.sqrt(residualVariance() * (1 + leverage(load)));
  }

  /** The test for lack of fit; empty without repeated loads or without loads to spare. */
  public Optional<LackOfFit> lackOfFit() {
    TreeMap<Double, double[]> groups = new TreeMap<>();
    for (int i = 0; i < x.length; i++) {
      double output = y[i];
      groups.merge(x[i], new double[] {output}, (held, added) -> append(held, added[0]));
    }
    double pure = 0;
    for (double[] group : groups.values()) {
      if (group.length > 1) {
        pure += Summary.variance(group) * (group.length - 1);
      }
    }
    int pureDf = x.length - groups.size();
    int lackDf = groups.size() - degree - 1;
    if (pureDf == 0 || lackDf <= 0 || !(pure > 0)) {
      return Optional.empty();
    }
    double f = Math.max(0, residualSumOfSquares - pure) / lackDf / (pure / pureDf);
    double p = FDistribution.of(lackDf, pureDf).survivalProbability(f);
    return Optional.of(new LackOfFit(f, lackDf, pureDf, p, Math.sqrt(pure / pureDf)));
  }

  private static double[] append(double[] values, double value) {
    double[] longer = Arrays.copyOf(values, values.length + 1);
    longer[values.length] = value;
    return longer;
  }

  /**
   * The load at which the curve takes an output, with limits for one new reading.
   *
   * <p>The limits are where the upper and the lower prediction limit take the output. The load must
   * lie within the calibrated range; the limits may reach a quarter of the range beyond it.
   */
  public InversePrediction inverse(double output, double confidence) {
    Checks.finite(output, "output");
    double t = studentQuantile(confidence);
    double low = centre - halfRange;
    double high = centre + halfRange;
    if (!rises(low, high)) {
      return new InversePrediction.NotFound("the curve does not rise or fall throughout its range");
    }
    Optional<Double> load = root(load1 -> at(load1) - output, low, high);
    if (load.isEmpty()) {
      return new InversePrediction.NotFound("the output lies outside the calibrated range");
    }
    double reach = 0.5 * halfRange;
    Optional<Double> one =
        root(v -> at(v) + predictionHalfWidth(v, t) - output, low - reach, high + reach);
    Optional<Double> other =
        root(v -> at(v) - predictionHalfWidth(v, t) - output, low - reach, high + reach);
    if (one.isEmpty() || other.isEmpty()) {
      return new InversePrediction.NotFound("the limits lie too far outside the calibrated range");
    }
    Interval limits =
        new Interval(
            Math.min(one.get(), other.get()), Math.max(one.get(), other.get()), confidence);
    return new InversePrediction.Found(load.get(), limits);
  }

  private boolean rises(double low, double high) {
    int steps = 200;
    double direction = Math.signum(at(high) - at(low));
    for (int i = 0; i < steps; i++) {
      double from = at(low + (high - low) * i / steps);
      double to = at(low + (high - low) * (i + 1) / steps);
      if (Math.signum(to - from) != direction || direction == 0) {
        return false;
      }
    }
    return true;
  }

  private static Optional<Double> root(UnivariateFunction f, double low, double high) {
    double atLow = f.value(low);
    double atHigh = f.value(high);
    if (atLow == 0 || atHigh == 0) {
      return Optional.of(atLow == 0 ? low : high);
    }
    if (atLow * atHigh > 0) {
      return Optional.empty();
    }
    return Optional.of(new BrentSolver(1e-14, 1e-14 * (high - low)).solve(200, f, low, high));
  }
}
