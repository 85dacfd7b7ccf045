package lotproof.claim.premise;

import java.nio.file.Path;
import java.time.Duration;
import java.time.LocalDateTime;
import java.util.ArrayList;
import java.util.Collections;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Predicate;
import lotproof.claim.premise.Assumption.LotsAndDays;
import lotproof.folder.StudyContents;
import lotproof.folder.StudyFolder;
import lotproof.reduce.LoadRun;
import lotproof.reduce.LoadRunReduction;
import lotproof.reduce.ReducedRun;
import lotproof.review.CheckStandardResult;
import lotproof.review.DecidedRuns;
import lotproof.review.ExchangedSerials;
import lotproof.review.ExtremeUnits;
import lotproof.review.FarReadings;
import lotproof.review.Finding;
import lotproof.review.StudyProgress;
import lotproof.study.BenchTimes;
import lotproof.study.DataIssue;
import lotproof.study.Study;

/**
 * How the bench stands beyond counting: the check standard, what stands out, and the time left.
 *
 * @param checkStandard how it behaves; absent when the study has none
 * @param suspects units and runs that stand out and that nobody has decided about
 * @param far readings so far from all others that a fit would see nothing but them, of runs that no
 *     decision takes out
 * @param exchanged runs whose serials look exchanged
 * @param lots lots that cannot be told from the time at which they were measured
 * @param timeLeft bench time for what is missing; absent when neither plan nor record tells it
 */
public record BenchFindings(
    Optional<CheckStandardResult.Behaviour> checkStandard,
    List<Finding> suspects,
    List<DataIssue> far,
    List<ExchangedSerials> exchanged,
    List<LotsAndDays> lots,
    Optional<TimeLeft> timeLeft) {
  private static final int FEWEST_GAPS = 5;

  /**
   * How long the bench is still needed.
   *
   * @param hours bench hours for them, warm-ups and the check standard included
   * @param planned whether by the planned times; else by the median time between runs in the record
   */
  public record TimeLeft(int runs, double hours, boolean planned) {}

  public static BenchFindings of(Path folder, StudyContents contents, StudyProgress progress) {
    Study study = contents.study();
    List<LoadRun> recorded = LoadRun.groupedFrom(contents.readings(), study);
    List<LoadRun> runs = DecidedRuns.corrected(recorded, contents.decisions());
    Predicate<LoadRun> isCheck = run -> study.units().isCheckStandard(run.cell(), run.board());
    LoadRunReduction reduction = new LoadRunReduction(study.kit(), study.referenceLine());
    List<ReducedRun> checks = reduction.reduce(runs.stream().filter(isCheck).toList()).runs();
    List<LoadRun> ofUnits =
        recorded.stream()
            .filter(isCheck.negate())
            .filter(run -> study.design().sideTestOf(run.name()).isEmpty())
            .toList();
    int missing = progress.plannedRuns() - progress.plannedRunsDone();
    return new BenchFindings(
        study
            .units()
            .checkStandard()
            .map(
                c ->
                    CheckStandardResult.of(checks)
                        .map(CheckStandardResult::behaviour)
                        .orElse(new CheckStandardResult.NotYet(0))),
        new ExtremeUnits(study, DecidedRuns.inForce(contents.decisions()))
            .of(reduction.reduce(ofUnits).runs()).stream()
                .filter(finding -> finding.decision().isEmpty())
                .toList(),
        FarReadings.of(
            study.kit(),
            DecidedRuns.of(
                    ofUnits,
                    contents.decisions(),
                    study.causes(),
                    some -> reduction.reduce(some).runs())
                .kept()),
        ExchangedSerials.of(study, contents.readings(), contents.decisions()),
        LotsInTime.of(
            study,
            runs.stream()
                .filter(isCheck.negate())
                .filter(run -> run.loadsKilograms().equals(study.design().loadsKilograms()))
                .toList()),
        StudyFolder.at(folder)
            .bench()
            .plan()
            .value()
            .flatMap(plan -> plan)
            .map(plan -> planned(missing, plan.times()))
            .or(() -> measured(missing, recorded, progress.checkRuns())));
  }

  static TimeLeft planned(int runs, BenchTimes times) {
    return new TimeLeft(runs, runs == 0 ? 0 : times.hoursFor(runs), true);
  }

  /**
   * By the times in the record: the median time from the start of one run to the start of the next
   * in the same session, for the missing runs and their part of check runs. Empty when too few
   * times were noted.
   *
   * @param recorded runs in the order of the record, the check standard's included
   * @param checkRuns how many of them are the check standard's
   */
  static Optional<TimeLeft> measured(int runs, List<LoadRun> recorded, int checkRuns) {
    Map<String, LoadRun> lastOfSession = new HashMap<>();
    List<Double> minutes = new ArrayList<>();
    for (LoadRun run : recorded) {
      LoadRun before = lastOfSession.put(run.session(), run);
      Optional<LocalDateTime> from =
          before == null ? Optional.empty() : before.readings().get(0).time();
      from.flatMap(t -> run.readings().get(0).time().map(to -> Duration.between(t, to)))
          .filter(gap -> gap.compareTo(Duration.ZERO) > 0)
          .ifPresent(gap -> minutes.add(gap.toSeconds() / 60.0));
    }
    if (minutes.size() < FEWEST_GAPS) {
      return Optional.empty();
    }
    Collections.sort(minutes);
    double median = minutes.get(minutes.size() / 2);
    int ofUnits = Math.max(1, recorded.size() - checkRuns);
    double withChecks = runs * (1 + checkRuns / (double) ofUnits);
    return Optional.of(new TimeLeft(runs, withChecks * median / 60, false));
  }

  /** Whether the bench gives no reason to stop. */
  public boolean steady() {
    return !(checkStandard.orElse(null) instanceof CheckStandardResult.Judged judged)
        || judged.steady();
  }
}
