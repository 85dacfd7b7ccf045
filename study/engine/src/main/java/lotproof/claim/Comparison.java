package lotproof.claim;

import java.util.List;
import lotproof.claim.evidence.LotScope;
import lotproof.spread.CharacteristicSpread;

/**
 * The figures and spreads of another set of runs, for comparison: what a reader holds against the
 * analysis that counts. What both have alike, such as each run's error curve, is not told again.
 *
 * @param runs how many runs it rests on
 * @param spreads spread of each characteristic
 * @param scopes how many units of how many lots, cells first
 * @param claims the claim at each calibration level, in study order, without curves
 */
public record Comparison(
    int runs, List<CharacteristicSpread> spreads, List<LotScope> scopes, List<LevelClaim> claims) {
  public Comparison {
    spreads = List.copyOf(spreads);
    scopes = List.copyOf(scopes);
    claims = List.copyOf(claims);
  }

  static Comparison of(Analysis analysis) {
    return new Comparison(
        analysis.runs(),
        analysis.spreads(),
        analysis.scopes(),
        analysis.claims().stream().map(LevelClaim::withoutCurves).toList());
  }
}
