package lotproof.report.assembly;

import com.fasterxml.jackson.annotation.JsonUnwrapped;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import lotproof.claim.KitErrors;
import lotproof.claim.LevelClaim;
import lotproof.claim.RecordedRun;
import lotproof.claim.StudyResult;
import lotproof.claim.upkeep.ProductionLimits;
import lotproof.reduce.ReducedRun;
import lotproof.report.words.ClaimWords;
import lotproof.study.Characteristic;
import lotproof.study.UnitKind;

/**
 * All that any file of a report states, as {@code result.json} holds it.
 *
 * @param result what the record supports
 * @param production limits of production tests that protect the figures
 * @param wording the claims in words
 * @param notCovered what no figure of the study covers
 * @param runValues characteristics of each run
 * @param unitMeans mean of each unit over its runs
 * @param kitErrors the kits of each level at the load where errors are widest; empty without a
 *     figure
 */
public record PublishedResult(
    @JsonUnwrapped StudyResult result,
    ProductionLimits production,
    List<ClaimWords.Wording> wording,
    List<String> notCovered,
    List<RunValues> runValues,
    List<UnitMeans> unitMeans,
    List<Optional<KitErrors>> kitErrors) {
  public PublishedResult {
    wording = List.copyOf(wording);
    notCovered = List.copyOf(notCovered);
    runValues = List.copyOf(runValues);
    unitMeans = List.copyOf(unitMeans);
    kitErrors = List.copyOf(kitErrors);
  }

  /** What a run shows, serials corrected as decided. */
  public record RunValues(
      String run, RecordedRun.State state, Map<Characteristic, Double> characteristics) {}

  /** What a unit shows in the mean over the runs that count. */
  public record UnitMeans(
      UnitKind kind, String serial, String lot, int runs, Map<Characteristic, Double> means) {}

  /** All that a report on this result states. */
  public static PublishedResult of(StudyResult result) {
    ClaimWords words = new ClaimWords(result);
    List<LevelClaim> claims = result.asDecided().claims();
    List<RecordedRun> runs = RecordedRun.of(result);
    return new PublishedResult(
        result,
        ProductionLimits.ofAllLoads(result),
        claims.stream().map(words::of).toList(),
        words.notCovered(),
        runs.stream()
            .map(
                run ->
                    new RunValues(
                        run.run().name(),
                        run.state(),
                        run.reduced().map(ReducedRun::values).orElse(Map.of())))
            .toList(),
        RunTables.summaries(result, runs).stream()
            .map(u -> new UnitMeans(u.kind(), u.serial(), u.lot(), u.runs().size(), u.means()))
            .toList(),
        claims.stream().map(claim -> KitErrors.of(result.study(), claim)).toList());
  }
}
