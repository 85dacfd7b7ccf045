package lotproof.statistics.components;

import java.util.Optional;

/**
 * How a fit is looked for.
 *
 * @param criterion what is made as large as possible
 * @param start where the search starts in place of the usual places; none where nothing is known
 */
public record FitOptions(Criterion criterion, Optional<WarmStart> start) {
  /** Restricted maximum likelihood from the usual starts. */
  public static final FitOptions REML = of(Criterion.REML);

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

  /** A criterion and the usual starts. */
  public static FitOptions of(Criterion criterion) {
    return new FitOptions(criterion, Optional.empty());
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
    return new FitOptions(criterion, Optional.of(new WarmStart(fit, variances, enough)));
  }

  /** The same from the estimates of another fit as they are. */
  public FitOptions from(ComponentsFit fit) {
    return from(fit, fit.variances());
  }

  /** What the fit makes as large as possible. */
  public enum Criterion {
    /** Likelihood of the differences that do not depend on the mean; the default for components. */
    REML,
    /** Full likelihood, which takes the mean as known and so shrinks the components a little. */
    ML
  }
}
