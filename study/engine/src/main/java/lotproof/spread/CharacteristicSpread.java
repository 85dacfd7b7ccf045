package lotproof.spread;

import java.util.List;
import java.util.Optional;

/**
 * Everything about the spread of one characteristic.
 *
 * @param values the values it rests on
 * @param outcome components and limits, or why there are none
 * @param distributionFree what the tested kits say without a model; absent without any value
 * @param lots plain figures by lot
 */
public record CharacteristicSpread(
    MeasuredValues values,
    SpreadOutcome outcome,
    Optional<DistributionFreeLimits> distributionFree,
    List<GroupSummary> lots) {
  public CharacteristicSpread {
    lots = List.copyOf(lots);
  }

  /** The estimate, if there is one. */
  public Optional<SpreadOutcome.Estimated> estimated() {
    return outcome instanceof SpreadOutcome.Estimated estimated
        ? Optional.of(estimated)
        : Optional.empty();
  }
}
