package lotproof.spread;

/**
 * Limits for a future kit with the estimates behind them.
 *
 * @param mean estimated mean of all kits
 * @param standardDeviations by component, in the order of the plan's roles, residual last
 * @param limits the limits
 */
public record ModelLimits(double mean, double[] standardDeviations, ToleranceLimits limits) {
  public ModelLimits {
    standardDeviations = standardDeviations.clone();
  }

  @Override
  public double[] standardDeviations() {
    return standardDeviations.clone();
  }
}
