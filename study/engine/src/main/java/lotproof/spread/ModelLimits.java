package lotproof.spread;

import java.util.List;

/**
 * Limits for a future kit with the estimates behind them.
 *
 * @param mean estimated mean of all kits
 * @param standardDeviations by component, in the order of the plan's roles, residual last
 * @param limits the limits
 */
public record ModelLimits(double mean, List<Double> standardDeviations, ToleranceLimits limits) {
  public ModelLimits {
    standardDeviations = List.copyOf(standardDeviations);
  }
}
