package lotproof.app;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.nio.file.Path;
import java.util.List;
import java.util.concurrent.Callable;
import lotproof.folder.StudyContents;
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

  @Option(names = "--json", description = "print the result as JSON (schema: docs/messages.schema.json)")
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
      Json.print(io.out(), asJson(contents, progress, exit));
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
    TextTable sessions = new TextTable("session", ">runs", ">check runs");
    for (StudyProgress.Session session : progress.sessions()) {
      sessions.row(
          OutsideText.clean(session.name()),
          Integer.toString(session.runs()),
          Integer.toString(session.checkRuns()));
    }
    section("Sessions", sessions, palette);
    section("Missing runs", pairs(progress.missing()), palette);
    section("Runs beyond the plan", pairs(progress.beyondPlan()), palette);
    TextTable units = new TextTable("kind", "serial");
    progress
        .unmeasured()
        .forEach(unit -> units.row(unit.kind().word(), OutsideText.clean(unit.serial())));
    section("Units not measured yet", units, palette);
    TextTable loads = new TextTable("run");
    progress.otherLoads().forEach(run -> loads.row(OutsideText.clean(run)));
    section("Runs with other loads than planned; they enter no figure", loads, palette);
  }

  private static TextTable pairs(List<StudyProgress.PairCount> counts) {
    TextTable table = new TextTable("cell", "board", ">planned", ">measured");
    for (StudyProgress.PairCount count : counts) {
      table.row(
          OutsideText.clean(count.cell()),
          OutsideText.clean(count.board()),
          Integer.toString(count.planned()),
          Integer.toString(count.measured()));
    }
    return table;
  }

  private void section(String title, TextTable table, Palette palette) {
    if (!table.isEmpty()) {
      io.out().println();
      io.out().println(title + ":");
      table.print(io.out(), palette);
    }
  }

  private static ObjectNode asJson(StudyContents contents, StudyProgress progress, int exit) {
    ObjectNode root = Json.message("status", exit);
    root.put("title", contents.study().title());
    root.put("record hash", contents.recordHash());
    root.put("readings", contents.readings().size());
    root.put("planned runs", progress.plannedRuns());
    root.put("planned runs done", progress.plannedRunsDone());
    root.put("check runs", progress.checkRuns());
    root.put("decisions", contents.decisions().size());
    ArrayNode sessions = root.putArray("sessions");
    for (StudyProgress.Session session : progress.sessions()) {
      sessions
          .addObject()
          .put("session", session.name())
          .put("runs", session.runs())
          .put("check runs", session.checkRuns());
    }
    put(root.putArray("missing"), progress.missing());
    put(root.putArray("beyond plan"), progress.beyondPlan());
    ArrayNode unmeasured = root.putArray("unmeasured");
    progress
        .unmeasured()
        .forEach(
            unit ->
                unmeasured.addObject().put("kind", unit.kind().word()).put("serial", unit.serial()));
    ArrayNode otherLoads = root.putArray("runs with other loads");
    progress.otherLoads().forEach(otherLoads::add);
    Json.put(root, contents.warnings());
    return root;
  }

  private static void put(ArrayNode array, List<StudyProgress.PairCount> counts) {
    for (StudyProgress.PairCount count : counts) {
      array
          .addObject()
          .put("cell", count.cell())
          .put("board", count.board())
          .put("planned", count.planned())
          .put("measured", count.measured());
    }
  }
}
