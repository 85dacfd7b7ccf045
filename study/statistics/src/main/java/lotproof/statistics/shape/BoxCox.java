package lotproof.statistics.shape;

import java.util.Arrays;
import lotproof.statistics.Checks;
import lotproof.statistics.DistributionQuantiles;
import lotproof.statistics.Interval;
import lotproof.statistics.summary.Summary;
import org.apache.commons.math3.analysis.UnivariateFunction;
import org.apache.commons.math3.analysis.solvers.BrentSolver;
import org.apache.commons.math3.linear.Array2DRowRealMatrix;
import org.apache.commons.math3.linear.ArrayRealVector;
import org.apache.commons.math3.linear.QRDecomposition;
import org.apache.commons.math3.optim.MaxEval;
import org.apache.commons.math3.optim.nonlinear.scalar.GoalType;
import org.apache.commons.math3.optim.univariate.BrentOptimizer;
import org.apache.commons.math3.optim.univariate.SearchInterval;
import org.apache.commons.math3.optim.univariate.UnivariateObjectiveFunction;

/**
 * The power of Box and Cox that makes positive values most nearly normal.
 *
 * <p>z = (y^lambda - 1)/lambda, or ln y at lambda 0. Profile log-likelihood l(lambda) = -n/2
 * ln(RSS/n) + (lambda - 1) sum ln y, RSS the residual sum of squares of z on the predictors; the
 * interval holds the powers with 2 (l max - l) up to the chi-square quantile.
 *
 * <p><strong>Rule.</strong> A power found in the data is a description of the data. Limits computed
 * on the transformed scale as if the power had been known are too narrow, because the power was
 * fitted to the same values. A claim may use a transformation only if physics names it (such as the
 * logarithm of a gain) and it was fixed before the data. Signed errors around zero have no power
 * transformation at all. {@link #reading()} says what the interval allows.
 *
 * <p>Source: G. E. P. Box and D. R. Cox, Journal of the Royal Statistical Society B 26 (1964)
 * 211-252 (from memory; results agree with R 4.2.2, MASS boxcox).
 *
 * @param lambda the power with the largest likelihood
 * @param interval the confidence interval of the power
 * @param logLikelihood l at lambda
 * @param logLikelihoodOfLogarithm l at 0
 * @param logLikelihoodUntransformed l at 1
 */
public record BoxCox(
    double lambda,
    Interval interval,
    double logLikelihood,
    double logLikelihoodOfLogarithm,
    double logLikelihoodUntransformed) {
  private static final double WIDEST = 20;

  /** What the interval of the power allows one to say. */
  public enum Reading {
    /** The power 1 lies inside: the data give no reason to transform. */
    UNTRANSFORMED_WILL_DO,
    /** The power 0 lies inside and 1 does not: a logarithm fits, if physics names it. */
    LOGARITHM_FITS,
    /** Neither lies inside: the values are skewed in some other way. */
    NEITHER
  }

  /** What the interval allows one to say; the logarithm still needs a reason outside the data. */
  public Reading reading() {
    if (interval.lower() <= 1 && 1 <= interval.upper()) {
      return Reading.UNTRANSFORMED_WILL_DO;
    }
    return interval.lower() <= 0 && 0 <= interval.upper()
        ? Reading.LOGARITHM_FITS
        : Reading.NEITHER;
  }

  /** The power of a sample of five or more positive values that are not all equal. */
  public static BoxCox of(double[] values, double confidence) {
    double[][] constant = new double[values.length][1];
    for (double[] row : constant) {
      row[0] = 1;
    }
    return of(values, constant, confidence);
  }

  /**
   * The power of positive responses given predictors.
   *
   * @param values positive responses
   * @param design one row of predictors a response; its columns span a constant
   * @param confidence of the interval
   */
  public static BoxCox of(double[] values, double[][] design, double confidence) {
    double[] y = Checks.sample(values, 5, "values");
    Checks.fraction(confidence, "confidence");
    if (design.length != y.length) {
      throw new IllegalArgumentException(
          "design must have one row a value, had " + design.length + " for " + y.length);
    }
    for (double value : y) {
      Checks.positive(value, "values");
    }
    UnivariateFunction likelihood = likelihood(y, design);
    double lambda =
        new BrentOptimizer(1e-10, 1e-12)
            .optimize(
                new MaxEval(1000),
                GoalType.MAXIMIZE,
                new UnivariateObjectiveFunction(likelihood),
                new SearchInterval(-WIDEST, WIDEST, 0.5))
            .getPoint();
    double most = likelihood.value(lambda);
    double cut = most - 0.5 * DistributionQuantiles.chiSquareUpper(1, 1 - confidence);
    UnivariateFunction above = l -> likelihood.value(l) - cut;
    Interval interval = new Interval(end(above, lambda, -1), end(above, lambda, 1), confidence);
    return new BoxCox(lambda, interval, most, likelihood.value(0), likelihood.value(1));
  }

  private static double end(UnivariateFunction above, double from, int direction) {
    double reach = 0.25;
    while (above.value(from + direction * reach) > 0) {
      reach *= 2;
      if (reach > 1e4) {
        return direction * Double.POSITIVE_INFINITY;
      }
    }
    double to = from + direction * reach;
    return new BrentSolver(1e-14, 1e-12).solve(200, above, Math.min(from, to), Math.max(from, to));
  }

  private static UnivariateFunction likelihood(double[] y, double[][] design) {
    int n = y.length;
    double[] relative = Arrays.stream(y).map(Math::log).toArray();
    double meanLog = Summary.mean(relative);
    for (int i = 0; i < n; i++) {
      relative[i] -= meanLog;
    }
    Array2DRowRealMatrix x = new Array2DRowRealMatrix(design);
    QRDecomposition qr = new QRDecomposition(x);
    if (!qr.getSolver().isNonSingular()) {
      throw new IllegalArgumentException("design must have independent columns");
    }
    double[] ones = new double[n];
    Arrays.fill(ones, 1);
    ArrayRealVector constant = new ArrayRealVector(ones);
    if (constant.subtract(x.operate(qr.getSolver().solve(constant))).getNorm() > 1e-8) {
      throw new IllegalArgumentException("design must span a constant");
    }
    // Scaled by the geometric mean, so that RSS stays of one order for every power:
    // RSS(lambda) of y is exp(2 lambda meanLog) times that of y / exp(meanLog).
    return lambda -> {
      double[] z = new double[n];
      for (int i = 0; i < n; i++) {
        double power = lambda * relative[i];
        z[i] = Math.abs(lambda) < 1e-10 ? relative[i] : Math.expm1(power) / lambda;
      }
      ArrayRealVector vector = new ArrayRealVector(z, false);
      double rss = Math.pow(vector.subtract(x.operate(qr.getSolver().solve(vector))).getNorm(), 2);
      if (!(rss > 0)) {
        throw new IllegalArgumentException("values must not lie exactly on the predictors");
      }
      double logRss = Math.log(rss / n) + 2 * lambda * meanLog;
      return -0.5 * n * logRss + (lambda - 1) * n * meanLog;
    };
  }
}
