package lotproof.statistics.components;

/**
 * Where a fit starts that cannot end far away: the variances and the fit of nearly the same study,
 * such as one with a unit more, whose curvature the new likelihood shares.
 *
 * @param fit of a study with the same factors
 * @param variances near those to be found, in the order of the factors, the residual last, 0 or
 *     above
 */
@SuppressWarnings("ArrayRecordComponent") // passed on at once, never compared
public record NearbyFit(ComponentsFit fit, double[] variances) {
  public NearbyFit {
    int components = fit.scaledVariances().length;
    if (variances.length != components) {
      throw new IllegalArgumentException(
          "variances must be " + components + ", had " + variances.length);
    }
  }

  /** Starts from the estimates of another fit as they are. */
  public static NearbyFit of(ComponentsFit fit) {
    return new NearbyFit(fit, fit.variances());
  }
}
