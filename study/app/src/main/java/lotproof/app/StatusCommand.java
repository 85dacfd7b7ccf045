package lotproof.app;

import java.nio.file.Path;
import java.util.List;
import java.util.concurrent.Callable;
import lotproof.folder.StudyContents;
import lotproof.report.data.ResultJson;
import lotproof.report.model.Table;
import lotproof.report.model.Table.Column;
import lotproof.report.text.OutsideText;
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
    boolean fine =
        progress.complete()
            && progress.otherLoads().isEmpty()
            && progress.beyondPlan().isEmpty()
            && contents.warnings().isEmpty();
    int exit = strict && !fine ? Exit.NO : Exit.DONE;
    if (json) {
      io.out().print(ResultJson.of(message(contents, progress, exit)));
    } else {
      print(contents, progress);
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

  private static Messages.Status message(StudyContents contents, StudyProgress progress, int exit) {
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
        contents.warnings());
  }
}
