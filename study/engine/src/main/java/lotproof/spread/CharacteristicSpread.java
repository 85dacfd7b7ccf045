package lotproof.spread;

import java.util.List;
import java.util.Optional;
import lotproof.model.MeasuredValues;
import lotproof.model.Role;
import lotproof.study.DataIssue;

/**
 * Everything about the spread of one characteristic.
 *
 * @param distributionFree what the tested kits say without a model; absent without any value
 * @param checks looks at what the model does not show; empty where they were not asked for
 */
public record CharacteristicSpread(
    MeasuredValues values,
    SpreadOutcome outcome,
    Optional<DistributionFreeLimits> distributionFree,
    List<LotSummary> lots,
    List<DataCheck> checks) {
  public CharacteristicSpread {
    lots = List.copyOf(lots);
    checks = List.copyOf(checks);
  }

  /**
   * What the tested kits say without any assumption on the shape of the distribution (Wilks 1941):
   * order statistics of independent draws.
   *
   * @param disjointKits largest number of tested kits that share no unit
   * @param largestSize largest absolute value over the tested kits
   * @param content fraction of kits that was asked for, in 0..1
   * @param confidenceOneLimit confidence that this content lies below the largest (or above the
   *     smallest, or within plus or minus the largest size), 1 - content^n
   * @param confidenceTwoLimits confidence that this content lies between smallest and largest
   * @param confidence confidence that was asked for, in 0..1
   * @param supportedContentOneLimit content that one extreme supports with that confidence, (1 -
   *     confidence)^(1/n)
   * @param kitsNeededOneLimit disjoint kits that would support the asked content with one extreme
   */
  public record DistributionFreeLimits(
      int testedKits,
      int disjointKits,
      double smallest,
      double largest,
      double largestSize,
      double content,
      double confidenceOneLimit,
      double confidenceTwoLimits,
      double confidence,
      double supportedContentOneLimit,
      int kitsNeededOneLimit) {}

  /**
   * Plain figures of one lot, from the means of its units; the standard deviation of one unit is 0.
   */
  public record LotSummary(
      Role role,
      String lot,
      int units,
      double mean,
      double standardDeviation,
      double smallest,
      double largest) {}

  /** The same where readings are so far from all others that a fit sees nothing else. */
  public CharacteristicSpread withFar(List<DataIssue> readings) {
    return outcome instanceof SpreadOutcome.NotEstimable no
        ? new CharacteristicSpread(
            values,
            new SpreadOutcome.NotEstimable(no.reason(), readings),
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
