package lotproof.app.bench;

import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import lotproof.app.cli.CliCommand;
import lotproof.claim.EstimatedCurves;
import lotproof.claim.StudyAnalysis;
import lotproof.folder.StudyContents;
import lotproof.folder.StudyFolder;
import lotproof.model.PooledSpread;
import lotproof.plan.rehearse.AssumedCurves;
import lotproof.reduce.ErrorCurve;
import lotproof.study.AssumedSpread;
import lotproof.study.BenchPlan;
import lotproof.study.ClaimRequest.LevelRequest;

/**
 * What a rehearsal takes to be true.
 *
 * @param curves errors of kits
 * @param atWorst the spread at the load where errors are widest
 * @param guardGrams what the record adds to its bounds; empty without a record
 */
record RehearsedTruth(AssumedCurves curves, AssumedSpread atWorst, OptionalDouble guardGrams) {
  /** From the options; else from the record; else from the plan. */
  static RehearsedTruth of(
      StudyContents contents, StudyFolder folder, LevelRequest request, AssumedSpreadOptions said) {
    Optional<EstimatedCurves> recorded =
        said.complete() || contents.readings().isEmpty()
            ? Optional.empty()
            : new StudyAnalysis(contents.study())
                .curves(contents.readings(), contents.decisions(), request);
    if (recorded.isPresent() && !said.given() && recorded.get().covariances().isPresent()) {
      EstimatedCurves found = recorded.get();
      AssumedCurves curves = new AssumedCurves(found.means(), found.covariances().orElseThrow());
      return new RehearsedTruth(curves, atWorst(found), OptionalDouble.of(found.guardGrams()));
    }
    Optional<AssumedSpread> known =
        recorded.isPresent()
            ? Optional.of(atWorst(recorded.get()))
            : said.complete()
                ? Optional.empty()
                : CliCommand.benchPlan(folder).map(BenchPlan::assumed);
    AssumedSpread spread = said.assumed(known);
    OptionalDouble guard =
        recorded.map(it -> OptionalDouble.of(it.guardGrams())).orElse(OptionalDouble.empty());
    return new RehearsedTruth(AssumedCurves.atOneLoad(spread), spread, guard);
  }

  private static AssumedSpread atWorst(EstimatedCurves found) {
    return PooledSpread.of(origin(found), found.means()[found.worst()], found.variancesAtWorst());
  }

  private static String origin(EstimatedCurves found) {
    ErrorCurve.Point worst = found.places().get(found.worst());
    return String.format(
        Locale.ROOT,
        "the record's estimates at %s kg %s",
        worst.loadKilograms(),
        worst.direction().word());
  }

  /** What a rehearsal leaves out, for people. */
  String limits() {
    String loads =
        curves.points() > 1
            ? ""
            : "Errors at other loads are taken to follow the one at the worst load. ";
    String bands =
        guardGrams.isPresent() ? "" : "guard bands that only readings show (between loads), ";
    return loads + "Not rehearsed: " + bands + "missing runs, and shapes other than normal.";
  }
}
