package lotproof.statistics.components;

import java.util.Optional;

/**
 * How a fit is looked for.
 *
 * @param start where the search starts in place of the usual places; none where nothing is known
 */
public record FitOptions(Optional<WarmStart> start) {
  /** Restricted maximum likelihood from the usual starts. */
  public static final FitOptions REML = new FitOptions(Optional.empty());

  /**
   * A start from a fit of the same factors.
   *
   * @param fit of the same factors
   * @param variances near those to be found, in the order of the components, 0 or above; a residual
   *     of 0 starts small, since nothing can lift it off zero
   * @param enough squared distance to the top, in standard errors, that is near enough to end; 0
   *     for the top itself
   */
  @SuppressWarnings("ArrayRecordComponent") // passed on at once, never compared
  public record WarmStart(ComponentsFit fit, double[] variances, double enough) {
    public WarmStart {
      int components = fit.scaledVariances().length;
      if (variances.length != components) {
        throw new IllegalArgumentException(
            "variances must be " + components + ", had " + variances.length);
      }
    }
  }

  /**
   * Starts from variances near those to be found alone, such as those of a study with a unit less:
   * much faster, and the same estimate to about 1e-6 of each variance unless the likelihood has
   * more than one top.
   */
  public FitOptions from(ComponentsFit fit, double[] variances) {
    return from(fit, variances, 0);
  }

  /** The same to a squared distance from the top, in standard errors, as simulations may. */
  public FitOptions from(ComponentsFit fit, double[] variances, double enough) {
    return new FitOptions(Optional.of(new WarmStart(fit, variances, enough)));
  }

  /** The same from the estimates of another fit as they are. */
  public FitOptions from(ComponentsFit fit) {
    return from(fit, fit.variances());
  }
}
