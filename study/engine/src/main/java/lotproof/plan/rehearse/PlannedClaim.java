package lotproof.plan.rehearse;

import java.util.OptionalDouble;
import lotproof.statistics.Checks;
import lotproof.study.ClaimRequest;

/**
 * What a study is to support.
 *
 * @param guardGrams what the bench's and the buyer's masses add to the bound, 0 or above
 * @param roundingGrams step to which the figure is rounded outward, above 0
 * @param wantedGrams the figure that someone would like to print, if any
 */
public record PlannedClaim(
    double content,
    double confidence,
    double guardGrams,
    double roundingGrams,
    OptionalDouble wantedGrams) {
  public PlannedClaim {
    ClaimRequest.share(content, "content");
    ClaimRequest.share(confidence, "confidence");
    Checks.notNegative(guardGrams, "guard band (g)");
    Checks.positive(roundingGrams, "rounding (g)");
    wantedGrams.ifPresent(grams -> Checks.positive(grams, "wanted figure (g)"));
  }

  /** A bound as it would be printed: with the guard band, rounded outward. */
  double printed(double bound) {
    double steps = (bound + guardGrams) / roundingGrams;
    double nearest = Math.rint(steps);
    return (Math.abs(steps - nearest) <= 1e-9 ? nearest : Math.ceil(steps)) * roundingGrams;
  }
}
