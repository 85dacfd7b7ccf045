package lotproof.spread;

import java.util.List;
import java.util.Optional;
import lotproof.model.MeasuredValues;

/**
 * Everything about the spread of one characteristic.
 *
 * @param values the values it rests on
 * @param outcome components and limits, or why there are none
 * @param distributionFree what the tested kits say without a model; absent without any value
 * @param lots plain figures by lot
 * @param checks looks at what the model does not show; empty where they were not asked for
 */
public record CharacteristicSpread(
    MeasuredValues values,
    SpreadOutcome outcome,
    Optional<DistributionFreeLimits> distributionFree,
    List<GroupSummary> lots,
    List<DataCheck> checks) {
  public CharacteristicSpread {
    lots = List.copyOf(lots);
    checks = List.copyOf(checks);
  }

  /** The same with more said of why there is no estimate; unchanged where there is one. */
  public CharacteristicSpread whereNot(String more) {
    return outcome instanceof SpreadOutcome.NotEstimable no
        ? new CharacteristicSpread(
            values,
            new SpreadOutcome.NotEstimable(no.reason() + more),
            distributionFree,
            lots,
            checks)
        : this;
  }

  /** The estimate, if there is one. */
  public Optional<SpreadOutcome.Estimated> estimated() {
    return outcome instanceof SpreadOutcome.Estimated estimated
        ? Optional.of(estimated)
        : Optional.empty();
  }
}
