package lotproof.statistics.components;

/**
 * Predicted effects of the levels of one factor, in the order of its levels.
 *
 * @param factor name of the factor
 * @param effects best linear unbiased predictions, theta Z'P y, shrunk toward zero
 * @param standardErrors of prediction, sqrt(theta - theta^2 diag(Z'PZ)), variances taken as known
 * @param standardized effect / sqrt(theta - standardError^2), near normal(0, 1); 0 when theta = 0
 */
@SuppressWarnings("ArrayRecordComponent") // copied in and out; compared by no one
public record FactorEffects(
    String factor, double[] effects, double[] standardErrors, double[] standardized) {
  public FactorEffects {
    effects = effects.clone();
    standardErrors = standardErrors.clone();
    standardized = standardized.clone();
  }

  @Override
  public double[] effects() {
    return effects.clone();
  }

  @Override
  public double[] standardErrors() {
    return standardErrors.clone();
  }

  @Override
  public double[] standardized() {
    return standardized.clone();
  }
}
