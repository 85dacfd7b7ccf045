package lotproof.statistics.tolerance;

import org.apache.commons.statistics.distribution.ChiSquaredDistribution;

/**
 * Failure(k) = Integral of phi(x) Pr(chi-square(nu) &lt; nu (z + x / sqrt(N))² / k²) dx for z and k
 * above zero, by the trapezoidal rule; for both below zero the same integral is the success.
 *
 * <p>Only for |z| sqrt(N) above 9.5, so that z + x / sqrt(N) keeps the sign of z, and for N far
 * above nu, so that the integrand is flat in x. With k on the other side of zero than z the limit
 * fails or holds but for a chance below 1e-20.
 */
final class OverTheMean implements OneSidedRule {
  private static final double REACH = 9;
  private static final double STEP = 0.5;
  private static final double ROOT_TWO_PI = Math.sqrt(2 * Math.PI);

  private final double rootN;
  private final double degreesOfFreedom;
  private final double contentQuantile;
  private final ChiSquaredDistribution chiSquare;

  OverTheMean(double rootN, double degreesOfFreedom, double contentQuantile) {
    this.rootN = rootN;
    this.degreesOfFreedom = degreesOfFreedom;
    this.contentQuantile = contentQuantile;
    this.chiSquare = ChiSquaredDistribution.of(degreesOfFreedom);
  }

  private interface Term {
    double of(double chiSquareValue);
  }

  private double average(double factor, Term term) {
    double sum = 0;
    for (double x = -REACH; x <= REACH; x += STEP) {
      double ratio = (contentQuantile + x / rootN) / factor;
      double weight = STEP * Math.exp(-0.5 * x * x) / ROOT_TWO_PI;
      sum += weight * term.of(degreesOfFreedom * ratio * ratio);
    }
    return sum;
  }

  private boolean opposite(double factor) {
    return factor == 0 || Math.signum(factor) != Math.signum(contentQuantile);
  }

  @Override
  public double failure(double factor) {
    if (opposite(factor)) {
      return contentQuantile > 0 ? 1 : 0;
    }
    return contentQuantile > 0
        ? average(factor, chiSquare::cumulativeProbability)
        : average(factor, chiSquare::survivalProbability);
  }

  @Override
  public double success(double factor) {
    if (opposite(factor)) {
      return contentQuantile > 0 ? 0 : 1;
    }
    return contentQuantile > 0
        ? average(factor, chiSquare::survivalProbability)
        : average(factor, chiSquare::cumulativeProbability);
  }

  @Override
  public double slope(double factor) {
    if (opposite(factor)) {
      return 0;
    }
    return average(factor, q -> 2 * q * chiSquare.density(q)) / Math.abs(factor);
  }
}
