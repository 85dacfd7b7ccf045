package lotproof.plan.rehearse;

import lotproof.statistics.DistributionQuantiles;

/**
 * How many degrees of freedom a precision asks for.
 *
 * <p>The upper limit of a standard deviation on nu degrees of freedom is R = sqrt(nu / chi2(1 -
 * gamma; nu)) times its expectation. n independent kits have nu = n - 1.
 */
public final class SampleSize {
  private SampleSize() {}

  /** R for given degrees of freedom. */
  public static double penalty(double degreesOfFreedom, double confidence) {
    return Math.sqrt(
        degreesOfFreedom / DistributionQuantiles.chiSquare(degreesOfFreedom, 1 - confidence));
  }

  /**
   * Degrees of freedom for a given R, by the cube-root approximation of the chi-squared quantile
   * (Wilson and Hilferty 1931, from memory): u = (-z + sqrt(z^2 + 4 (1 - R^(-2/3)))) / 2, nu = 2 /
   * (9 u^2), z the normal quantile of the confidence. Right to 0.1 degrees of freedom from R = 2
   * down.
   *
   * @param penalty R, above 1
   */
  public static double degreesOfFreedom(double penalty, double confidence) {
    if (!(penalty > 1)) {
      throw new IllegalArgumentException("penalty must be above 1, was " + penalty);
    }
    double z = DistributionQuantiles.normal(confidence);
    double u = (-z + Math.sqrt(z * z + 4 * (1 - Math.pow(penalty, -2.0 / 3)))) / 2;
    return 2 / (9 * u * u);
  }

  /**
   * Degrees of freedom for which the 95 % interval of a standard deviation is within this fraction
   * of it: 1.92 / h^2 (large samples: half width = 1.96 / sqrt(2 nu)).
   */
  public static double degreesOfFreedomForHalfWidth(double fraction) {
    if (!(fraction > 0 && fraction < 1)) {
      throw new IllegalArgumentException("fraction must lie between 0 and 1, was " + fraction);
    }
    double z = DistributionQuantiles.normal(0.975);
    return z * z / 2 / (fraction * fraction);
  }
}
