package lotproof.spread;

import java.util.List;
import lotproof.statistics.components.ComponentsFit;

/**
 * Limits for a future kit with the estimates behind them.
 *
 * @param mean estimated mean of all kits
 * @param standardDeviations by component, in the order of the plan's roles, residual last
 * @param limits the limits
 * @param fit the fit that they come from
 */
public record ModelLimits(
    double mean, List<Double> standardDeviations, ToleranceLimits limits, ComponentsFit fit) {
  public ModelLimits {
    standardDeviations = List.copyOf(standardDeviations);
  }
}
