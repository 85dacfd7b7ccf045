package lotproof.app;

import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
import java.util.concurrent.Callable;
import lotproof.claim.AssumptionWords;
import lotproof.claim.premise.Assumption.LotsAndDays;
import lotproof.folder.StudyContents;
import lotproof.report.data.ResultJson;
import lotproof.report.model.Table;
import lotproof.report.model.Table.Column;
import lotproof.report.model.Table.Row;
import lotproof.report.text.OutsideText;
import lotproof.review.CheckStandardBehaviour;
import lotproof.review.Finding;
import lotproof.review.StudyProgress;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** What is measured, what is missing, what looks wrong. */
@Command(
    name = "status",
    header = "Show what is measured, what is missing and what looks wrong.",
    description = "Compares the record with the plan of study.yaml, after the decided corrections.",
    footer = {"  lotproof status hive-scale", "  lotproof status hive-scale --strict"})
final class StatusCommand implements Callable<Integer> {

  private final Surroundings io;
  private final LotproofCommand program;

  @Parameters(index = "0", paramLabel = "STUDY", description = "the study folder")
  private Path study = Path.of("");

  @Option(
      names = "--strict",
      description = "answer no (1) when something is missing or there are warnings")
  private boolean strict;

  @Option(
      names = "--json",
      description = "print the result as JSON (schema: docs/messages.schema.json)")
  private boolean json;

  StatusCommand(Surroundings io, LotproofCommand program) {
    this.io = io;
    this.program = program;
  }

  @Override
  public Integer call() {
    StudyContents contents = StudyFolders.open(study);
    StudyProgress progress =
        StudyProgress.of(contents.study(), contents.readings(), contents.decisions());
    StatusFindings findings = StatusFindings.of(study, contents, progress);
    boolean fine =
        findings.steady()
            && progress.complete()
            && progress.otherLoads().isEmpty()
            && progress.beyondPlan().isEmpty()
            && contents.warnings().isEmpty();
    int exit = strict && !fine ? Exit.NO : Exit.DONE;
    if (json) {
      io.out().print(ResultJson.of(message(contents, progress, findings, exit)));
    } else {
      print(contents, progress);
      print(findings);
      io.out().flush();
      Issues.print(contents.warnings(), io.err());
    }
    return exit;
  }

  private void print(StudyContents contents, StudyProgress progress) {
    Palette palette = program.palette();
    io.out().println(palette.strong(OutsideText.clean(contents.study().title())));
    io.out()
        .println(
            contents.readings().size()
                + " readings in the record; "
                + progress.plannedRunsDone()
                + " of "
                + progress.plannedRuns()
                + " planned runs measured; "
                + progress.checkRuns()
                + " runs of the check standard; "
                + contents.decisions().size()
                + " decisions.");
    Screen screen = new Screen(io.out(), palette);
    screen.showIfAny(sessions(progress));
    screen.showIfAny(pairs("missing", "Missing runs", progress.missing()));
    screen.showIfAny(pairs("beyond-plan", "Runs beyond the plan", progress.beyondPlan()));
    screen.showIfAny(
        Screen.table(
            "unmeasured",
            "Units not measured yet",
            List.of(Column.text("kind", "Kind"), Column.text("serial", "Serial")),
            progress.unmeasured().stream()
                .map(unit -> Screen.row(unit.kind().word(), unit.serial()))
                .toList()));
    screen.showIfAny(
        Screen.table(
            "other-loads",
            "Runs with other loads than planned; they enter no figure",
            List.of(Column.text("run", "Run")),
            progress.otherLoads().stream().map(run -> Screen.row(run)).toList()));
    screen.showIfAny(
        Screen.table(
            "side-tests",
            "Side tests",
            List.of(
                Column.text("effect", "Effect"),
                Column.count("runs", "Runs"),
                Column.text("other-loads", "Runs with other loads; they enter no figure")),
            progress.sideTests().stream()
                .map(
                    test ->
                        Screen.row(
                            test.effect(), test.runs(), String.join(", ", test.otherLoads())))
                .toList()));
  }

  private void print(StatusFindings findings) {
    Palette palette = program.palette();
    new Screen(io.out(), palette)
        .showIfAny(
            Screen.table(
                "suspects",
                "What stands out and nobody has decided about (lotproof review shows the evidence)",
                List.of(
                    Column.text("target", "What"),
                    Column.text("serial", "Name"),
                    Column.text("characteristic", "In"),
                    Column.text("effect", "By")),
                findings.suspects().stream().map(StatusCommand::suspect).toList()));
    io.out().println();
    for (LotsAndDays lots : findings.lots()) {
      io.out()
          .println(
              palette.no(AssumptionWords.title(lots))
                  + ": "
                  + AssumptionWords.evidence(lots)
                  + ". Mix the lots over the sessions that are left.");
    }
    findings.checkStandard().ifPresent(this::print);
    findings
        .timeLeft()
        .ifPresent(
            left ->
                io.out()
                    .println(
                        text(
                            "Bench time left: about %.1f hours for %d runs (%s).",
                            left.hours(), left.runs(), left.basis())));
  }

  private static Row suspect(Finding finding) {
    return Screen.row(
        finding.target().word(),
        finding.serial(),
        finding.characteristic().title(),
        PlanScreen.number(finding.effect()) + " " + finding.characteristic().unit());
  }

  private void print(CheckStandardBehaviour behaviour) {
    if (behaviour instanceof CheckStandardBehaviour.NotYet notYet) {
      io.out().println("Check standard: not judged yet. " + notYet.reason());
      return;
    }
    CheckStandardBehaviour.Judged judged = (CheckStandardBehaviour.Judged) behaviour;
    Palette palette = program.palette();
    io.out()
        .println(
            text(
                "Check standard: %s; last %.6f mV/V, limits %.6f to %.6f from its first %d of %d"
                    + " runs.",
                judged.alarms().isEmpty() ? palette.yes("steady") : palette.no("off"),
                judged.last(),
                judged.lower(),
                judged.upper(),
                judged.baselineRuns(),
                judged.runs()));
    judged.alarms().forEach(alarm -> io.out().println("  " + OutsideText.clean(alarm)));
  }

  private static String text(String format, Object... values) {
    return String.format(Locale.ROOT, format, values);
  }

  private static Table sessions(StudyProgress progress) {
    return Screen.table(
        "sessions",
        "Sessions",
        List.of(
            Column.text("session", "Session"),
            Column.count("runs", "Runs"),
            Column.count("check-runs", "Check runs")),
        progress.sessions().stream()
            .map(session -> Screen.row(session.name(), session.runs(), session.checkRuns()))
            .toList());
  }

  private static Table pairs(String id, String title, List<StudyProgress.PairCount> counts) {
    return Screen.table(
        id,
        title,
        List.of(
            Column.text("cell", "Cell"),
            Column.text("board", "Board"),
            Column.count("planned", "Planned"),
            Column.count("measured", "Measured")),
        counts.stream()
            .map(c -> Screen.row(c.cell(), c.board(), c.planned(), c.measured()))
            .toList());
  }

  private static Messages.Status message(
      StudyContents contents, StudyProgress progress, StatusFindings findings, int exit) {
    return new Messages.Status(
        new Messages.Origin(
            "status",
            LotproofCommand.Version.number(),
            contents.study().title(),
            contents.recordHash(),
            exit),
        contents.readings().size(),
        contents.decisions().size(),
        progress,
        findings,
        contents.warnings());
  }
}
