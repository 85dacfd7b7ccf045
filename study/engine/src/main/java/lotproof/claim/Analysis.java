package lotproof.claim;

import java.util.List;
import java.util.Optional;
import lotproof.claim.evidence.LotScope;
import lotproof.claim.evidence.StepTimes;
import lotproof.claim.evidence.TemperatureRange;
import lotproof.claim.premise.PlanCoverage;
import lotproof.reduce.PairSummary;
import lotproof.review.ExchangedSerials;
import lotproof.spread.CharacteristicSpread;

/**
 * Spread and claims from one set of runs.
 *
 * @param scopes how many units of how many lots, cells first
 * @param times how long after the step before it each step was read; absent without such times
 * @param exchanged runs whose serials look exchanged; looked for in the analysis that counts
 * @param jig what the jig says of boards beside their error; for a claim for boards alone on one
 */
public record Analysis(
    int runs,
    List<PairSummary> pairs,
    List<CharacteristicSpread> spreads,
    List<LotScope> scopes,
    TemperatureRange temperature,
    Optional<StepTimes> times,
    Optional<JigLimits> jig,
    PlanCoverage coverage,
    List<ExchangedSerials> exchanged,
    List<LevelClaim> claims) {
  public Analysis {
    pairs = List.copyOf(pairs);
    spreads = List.copyOf(spreads);
    scopes = List.copyOf(scopes);
    exchanged = List.copyOf(exchanged);
    claims = List.copyOf(claims);
  }

  /** The same with the serials that look exchanged. */
  Analysis with(List<ExchangedSerials> found) {
    return new Analysis(
        runs, pairs, spreads, scopes, temperature, times, jig, coverage, found, claims);
  }

  /** The same without error curves, which another analysis of the same runs has alike. */
  Analysis withoutCurves() {
    return new Analysis(
        runs,
        pairs,
        spreads,
        scopes,
        temperature,
        times,
        jig,
        coverage,
        exchanged,
        claims.stream().map(LevelClaim::withoutCurves).toList());
  }
}
