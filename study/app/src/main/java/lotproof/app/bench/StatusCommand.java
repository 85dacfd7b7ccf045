package lotproof.app.bench;

import static lotproof.report.model.Format.COUNT;
import static lotproof.report.model.Format.TEXT;
import static lotproof.report.words.Numbers.digits;

import java.util.ArrayList;
import java.util.List;
import lotproof.app.cli.CliCommand;
import lotproof.app.cli.CliContext.Style;
import lotproof.app.cli.Exit;
import lotproof.app.cli.Origin;
import lotproof.claim.premise.Assumption.LotsAndDays;
import lotproof.claim.premise.BenchFindings;
import lotproof.folder.StudyContents;
import lotproof.report.model.Table;
import lotproof.report.model.TableBuilder;
import lotproof.report.words.AssumptionWords;
import lotproof.report.words.ReviewWords;
import lotproof.review.Finding;
import lotproof.review.StudyProgress;
import lotproof.study.DataIssue;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;

/** What is measured, what is missing, what looks wrong. */
@Command(name = "status")
public final class StatusCommand extends CliCommand.OnStudy {

  @Option(names = "--strict")
  private boolean strict;

  /** What {@code status} found. */
  public record Status(
      Origin origin,
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
                contents.readings().size(),
                contents.decisions().size(),
                progress,
                findings,
                issues),
        () -> {
          print(contents, progress);
          print(findings);
          io.showAll(findings.far());
          io.showAll(issues);
        });
  }

  private void print(StudyContents contents, StudyProgress progress) {
    io.say(Style.STRONG, contents.study().title(), "");
    io.sayf(
        "%d readings in the record; %d of %d planned runs measured; %d runs of the check standard;"
            + " %d decision%s.",
        contents.readings().size(),
        progress.plannedRunsDone(),
        progress.plannedRuns(),
        progress.checkRuns(),
        contents.decisions().size(),
        contents.decisions().size() == 1 ? "" : "s");
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
        new TableBuilder<String>("Runs with other loads than planned; they enter no figure")
            .add("Run", TEXT, run -> run)
            .of(progress.otherLoads()));
    io.show(
        new TableBuilder<StudyProgress.SideTestCount>("Side tests")
            .add("Effect", TEXT, test -> test.effect())
            .add("Runs", COUNT, test -> test.runs())
            .add(
                "Runs with other loads; they enter no figure",
                TEXT,
                test -> String.join(", ", test.otherLoads()))
            .of(progress.sideTests()));
  }

  private static Table pairs(String title, List<StudyProgress.PairCount> counts) {
    return new TableBuilder<StudyProgress.PairCount>(title)
        .add("Cell", TEXT, StudyProgress.PairCount::cell)
        .add("Board", TEXT, StudyProgress.PairCount::board)
        .add("Planned", COUNT, StudyProgress.PairCount::planned)
        .add("Measured", COUNT, StudyProgress.PairCount::measured)
        .of(counts);
  }

  private void print(BenchFindings findings) {
    io.show(
        new TableBuilder<Finding>(
                "What stands out without a decision (lotproof review shows the evidence)")
            .add("What", TEXT, finding -> finding.target().key())
            .add("Name", TEXT, Finding::serial)
            .add("Characteristic", TEXT, finding -> finding.characteristic().title())
            .add(
                "Deviation",
                TEXT,
                finding -> digits(finding.effect(), 3) + " " + finding.characteristic().unit())
            .of(findings.suspects()));
    io.say("");
    for (LotsAndDays lots : findings.lots()) {
      io.say(
          Style.NO,
          AssumptionWords.title(lots),
          ": %s. Mix the lots over the sessions that are left."
              .formatted(AssumptionWords.evidence(lots)));
    }
    findings.checkStandard().map(ReviewWords::of).ifPresent(io::say);
    findings
        .timeLeft()
        .ifPresent(
            left ->
                io.sayf(
                    "Bench time left: about %.1f hours for %d runs (%s).",
                    left.hours(), left.runs(), ReviewWords.basis(left)));
  }
}
