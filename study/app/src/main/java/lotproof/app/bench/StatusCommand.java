package lotproof.app.bench;

import static lotproof.report.model.Format.COUNT;
import static lotproof.report.model.Format.TEXT;
import static lotproof.report.words.Numbers.digits;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import lotproof.app.cli.CliCommand;
import lotproof.app.cli.CliContext.Style;
import lotproof.app.cli.Exit;
import lotproof.app.cli.Origin;
import lotproof.claim.premise.Assumption.LotsAndDays;
import lotproof.claim.premise.BenchFindings;
import lotproof.folder.StudyContents;
import lotproof.gather.TypedEntry;
import lotproof.report.model.Table;
import lotproof.report.model.TableBuilder;
import lotproof.report.words.AssumptionWords;
import lotproof.report.words.ReviewWords;
import lotproof.review.Finding;
import lotproof.review.StudyProgress;
import lotproof.review.StudyProgress.PairCount;
import lotproof.study.BenchPlan;
import lotproof.study.DataIssue;
import lotproof.study.PlannedRun;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;

/** What is measured, what is missing, what looks wrong. */
@Command(name = "status")
public final class StatusCommand extends CliCommand.OnStudy {

  /** Names in a line of what is wrong; the others are counted. */
  private static final int NAMED = 5;

  @Option(names = "--strict")
  private boolean strict;

  @Option(names = "--details")
  private boolean details;

  /**
   * What {@code status} found.
   *
   * @param next the run to measure next, in the order of the bench; absent where none is missing
   */
  public record Status(
      Origin origin,
      Optional<PlannedRun> next,
      int readings,
      int decisions,
      StudyProgress progress,
      BenchFindings findings,
      List<DataIssue> issues)
      implements Message {}

  @Override
  public Integer call() {
    StudyContents contents = open(study);
    StudyProgress progress =
        StudyProgress.of(contents.study(), contents.readings(), contents.decisions());
    BenchFindings findings = BenchFindings.of(study, contents, progress);
    Optional<BenchPlan> plan = benchPlan(folder(study));
    Optional<PlannedRun> next =
        TypedEntry.of(folder(study), contents, plan).open().stream()
            .filter(run -> !run.isCheck() || !progress.complete())
            .findFirst();
    List<DataIssue> issues = new ArrayList<>(contents.warnings());
    findings.exchanged().forEach(found -> issues.add(found.issue()));
    boolean fine =
        findings.steady()
            && progress.complete()
            && progress.otherLoads().isEmpty()
            && progress.beyondPlan().isEmpty()
            && findings.far().isEmpty()
            && issues.isEmpty();
    int exit = strict && !fine ? Exit.NO : Exit.DONE;
    return answer(
        exit,
        () ->
            new Status(
                Origin.of("status", contents, exit),
                next,
                contents.readings().size(),
                contents.decisions().size(),
                progress,
                findings,
                issues),
        () -> {
          io.say(Style.STRONG, "next: ", next(next, plan.isPresent(), findings));
          wrong(progress, findings);
          List<DataIssue> all = Stream.of(findings.far(), issues).flatMap(List::stream).toList();
          if (details) {
            io.showAll(all);
          } else {
            io.showFirst(all);
          }
          counts(contents, progress, findings);
          if (details) {
            tables(progress, findings);
          } else {
            io.say("Sessions, pairs, units and findings one by one: --details");
          }
        });
  }

  private String next(Optional<PlannedRun> run, boolean named, BenchFindings findings) {
    if (run.isPresent()) {
      PlannedRun it = run.get();
      return (named ? "run " + it.run() + ", " : "")
          + (it.isCheck() ? "check standard, " : "")
          + "cell "
          + it.cell()
          + " on board "
          + it.board();
    }
    return findings.suspects().isEmpty()
        ? "all that is planned is measured; lotproof claim " + study
        : "look at what stands out; lotproof review " + study;
  }

  /** One line for each kind of thing that is wrong. */
  private void wrong(StudyProgress progress, BenchFindings findings) {
    if (progress.plannedRunsDone() > 0 && progress.missing().size() <= NAMED) {
      wrong("Planned and missing", progress.missing().stream().map(PairCount::pair).toList());
    }
    wrong("Measured beyond the plan", progress.beyondPlan().stream().map(PairCount::pair).toList());
    wrong("Other loads than planned, in no figure", progress.otherLoads());
    wrong(
        "Side tests with other loads, in no figure",
        progress.sideTests().stream().flatMap(test -> test.otherLoads().stream()).toList());
    wrong(
        "Stands out, and nobody decided",
        findings.suspects().stream()
            .map(finding -> finding.target().key() + " " + finding.serial())
            .distinct()
            .toList());
    for (LotsAndDays lots : findings.lots()) {
      io.say(
          Style.NO,
          AssumptionWords.title(lots),
          ": %s. Mix the lots over the sessions that are left."
              .formatted(AssumptionWords.evidence(lots)));
    }
  }

  private void wrong(String what, List<String> names) {
    if (!names.isEmpty()) {
      int more = names.size() - NAMED;
      io.say(
          Style.NO,
          what + ": ",
          String.join(", ", names.subList(0, Math.min(NAMED, names.size())))
              + (more > 0 ? " and " + more + " more" : ""));
    }
  }

  private void counts(StudyContents contents, StudyProgress progress, BenchFindings findings) {
    io.sayf(
        "%s: %d of %d planned runs measured, %d of the check standard; %d readings, %d decision%s.",
        contents.study().title(),
        progress.plannedRunsDone(),
        progress.plannedRuns(),
        progress.checkRuns(),
        contents.readings().size(),
        contents.decisions().size(),
        contents.decisions().size() == 1 ? "" : "s");
    if (!progress.unmeasured().isEmpty()) {
      io.sayf("Units not measured yet: %d.", progress.unmeasured().size());
    }
    findings.checkStandard().map(ReviewWords::of).ifPresent(io::say);
    findings
        .timeLeft()
        .filter(left -> left.runs() > 0)
        .ifPresent(
            left ->
                io.sayf(
                    "Bench time left: about %.1f hours for %d run%s (%s).",
                    left.hours(),
                    left.runs(),
                    left.runs() == 1 ? "" : "s",
                    ReviewWords.basis(left)));
  }

  private void tables(StudyProgress progress, BenchFindings findings) {
    io.show(
        new TableBuilder<StudyProgress.Session>("Sessions")
            .add("Session", TEXT, session -> session.name())
            .add("Runs", COUNT, session -> session.runs())
            .add("Check runs", COUNT, session -> session.checkRuns())
            .of(progress.sessions()));
    io.show(pairs("Missing runs", progress.missing()));
    io.show(pairs("Runs beyond the plan", progress.beyondPlan()));
    io.show(
        new TableBuilder<StudyProgress.MissingUnit>("Units not measured yet")
            .add("Kind", TEXT, unit -> unit.kind().key())
            .add("Serial", TEXT, unit -> unit.serial())
            .of(progress.unmeasured()));
    io.show(
        new TableBuilder<StudyProgress.SideTestCount>("Side tests")
            .add("Effect", TEXT, test -> test.effect())
            .add("Runs", COUNT, test -> test.runs())
            .of(progress.sideTests()));
    io.show(
        new TableBuilder<Finding>(
                "Stands out, and nobody decided; lotproof review has the evidence")
            .add("What", TEXT, finding -> finding.target().key())
            .add("Name", TEXT, Finding::serial)
            .add("Characteristic", TEXT, finding -> finding.characteristic().title())
            .add(
                "Deviation",
                TEXT,
                finding -> digits(finding.effect(), 3) + " " + finding.characteristic().unit())
            .of(findings.suspects()));
  }

  private static Table pairs(String title, List<PairCount> counts) {
    return new TableBuilder<PairCount>(title)
        .add("Cell", TEXT, PairCount::cell)
        .add("Board", TEXT, PairCount::board)
        .add("Planned", COUNT, PairCount::planned)
        .add("Measured", COUNT, PairCount::measured)
        .of(counts);
  }
}
