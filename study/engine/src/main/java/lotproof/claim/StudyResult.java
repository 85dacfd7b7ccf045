package lotproof.claim;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import lotproof.claim.evidence.LevelCurves;
import lotproof.claim.premise.PartnerTest;
import lotproof.reduce.LoadRun;
import lotproof.reduce.ReducedRun;
import lotproof.reduce.capture.SeriesStability;
import lotproof.review.CheckStandardResult;
import lotproof.review.DecidedRuns;
import lotproof.review.Finding;
import lotproof.review.ReadingFinding;
import lotproof.study.ClaimRequest.LevelRequest;
import lotproof.study.DataIssue;
import lotproof.study.Decision;
import lotproof.study.Study;

/**
 * Everything that a study's record supports.
 *
 * @param runs all runs as recorded, the check standard's included
 * @param asDecided the analysis with the decided exclusions; this one counts
 * @param withoutExclusions what an analysis with corrections but without any exclusion says; absent
 *     when nothing was excluded
 * @param excluded runs that were taken out, with the decisions
 * @param findings units and runs that stand out, over all runs as recorded
 * @param series long captures that the study keeps, and how far averaging helps in each
 * @param issues what the reader must know about the data
 */
public record StudyResult(
    Study study,
    List<LoadRun> runs,
    Analysis asDecided,
    Optional<Analysis> withoutExclusions,
    List<DecidedRuns.Excluded> excluded,
    List<Decision> decisions,
    List<Finding> findings,
    List<ReadingFinding> readings,
    List<FigureChange> changes,
    Optional<CheckStandardResult> checkStandard,
    List<SeriesStability> series,
    List<DataIssue> issues) {
  public StudyResult {
    runs = List.copyOf(runs);
    excluded = List.copyOf(excluded);
    decisions = List.copyOf(decisions);
    findings = List.copyOf(findings);
    readings = List.copyOf(readings);
    changes = List.copyOf(changes);
    series = List.copyOf(series);
    issues = List.copyOf(issues);
  }

  /** What is said without any exclusion, which is what counts when there is none. */
  public Analysis comparison() {
    return withoutExclusions.orElseGet(() -> asDecided.withoutCurves());
  }

  /** The curves that a claim of this study is judged on, from the runs that count. */
  public LevelCurves curves(LevelClaim claim) {
    List<ReducedRun> counting =
        RecordedRun.of(this).stream()
            .filter(run -> run.state() == RecordedRun.State.COUNTS)
            .flatMap(run -> run.reduced().stream())
            .toList();
    return LevelCurves.of(
        study,
        claim.isMatched() ? PartnerTest.ofFirstPartners(study.design(), counting) : counting,
        new LevelRequest(claim.level(), OptionalDouble.empty(), claim.correction()));
  }

  /** The same with what the study's series say. */
  public StudyResult with(List<SeriesStability> found) {
    return new StudyResult(
        study,
        runs,
        asDecided,
        withoutExclusions,
        excluded,
        decisions,
        findings,
        readings,
        changes,
        checkStandard,
        found,
        issues);
  }
}
