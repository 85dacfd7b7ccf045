package lotproof.claim.premise;

import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import java.util.function.Predicate;
import lotproof.claim.premise.Assumption.LotsAndDays;
import lotproof.folder.StudyContents;
import lotproof.folder.StudyFolder;
import lotproof.reduce.LoadRun;
import lotproof.reduce.LoadRunReduction;
import lotproof.review.BenchTimeLeft;
import lotproof.review.CheckStandardBehaviour;
import lotproof.review.DecidedRuns;
import lotproof.review.ExtremeUnits;
import lotproof.review.Finding;
import lotproof.review.StudyProgress;
import lotproof.study.Study;

/**
 * How the bench stands beyond counting: the check standard, what stands out, and the time left.
 *
 * @param checkStandard how it behaves; absent when the study has none
 * @param suspects units and runs that stand out and that nobody has decided about
 * @param lots lots that cannot be told from the time at which they were measured
 * @param timeLeft bench time for what is missing; absent when neither plan nor record tells it
 */
public record BenchFindings(
    Optional<CheckStandardBehaviour> checkStandard,
    List<Finding> suspects,
    List<LotsAndDays> lots,
    Optional<BenchTimeLeft> timeLeft) {

  public static BenchFindings of(Path folder, StudyContents contents, StudyProgress progress) {
    Study study = contents.study();
    List<LoadRun> recorded = LoadRun.groupedFrom(contents.readings(), contents.study());
    List<LoadRun> runs = DecidedRuns.corrected(recorded, contents.decisions());
    Predicate<LoadRun> isCheck = run -> study.units().isCheckStandard(run.cell(), run.board());
    LoadRunReduction reduction = new LoadRunReduction(study.kit(), study.referenceLine());
    Optional<CheckStandardBehaviour> behaviour =
        study
            .units()
            .checkStandard()
            .map(
                c ->
                    CheckStandardBehaviour.of(
                        reduction.reduce(runs.stream().filter(isCheck).toList()).runs()));
    List<Finding> suspects =
        new ExtremeUnits(study)
                .of(
                    reduction
                        .reduce(
                            recorded.stream()
                                .filter(isCheck.negate())
                                .filter(run -> study.design().sideTestOf(run.name()).isEmpty())
                                .toList())
                        .runs(),
                    DecidedRuns.inForce(contents.decisions()))
                .stream()
                .filter(finding -> finding.decision().isEmpty())
                .toList();
    int missing = progress.plannedRuns() - progress.plannedRunsDone();
    Optional<BenchTimeLeft> planned =
        StudyFolder.at(folder)
            .bench()
            .plan()
            .value()
            .flatMap(plan -> plan)
            .map(plan -> BenchTimeLeft.planned(missing, plan.times()));
    return new BenchFindings(
        behaviour,
        suspects,
        LotsInTime.of(
            study,
            runs.stream()
                .filter(isCheck.negate())
                .filter(run -> run.loadsKilograms().equals(study.design().loadsKilograms()))
                .toList()),
        planned.or(() -> BenchTimeLeft.measured(missing, recorded, progress.checkRuns())));
  }

  /** Whether the bench gives no reason to stop. */
  public boolean steady() {
    return !(checkStandard.orElse(null) instanceof CheckStandardBehaviour.Judged judged)
        || judged.alarms().isEmpty();
  }
}
