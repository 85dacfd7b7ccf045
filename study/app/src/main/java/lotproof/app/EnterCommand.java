package lotproof.app;

import java.math.BigDecimal;
import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.concurrent.Callable;
import lotproof.folder.AppendOutcome;
import lotproof.folder.BenchPlanFile;
import lotproof.folder.ReadingColumn;
import lotproof.folder.StudyContents;
import lotproof.folder.StudyFolder;
import lotproof.folder.UnitsOfMeasure;
import lotproof.gather.TypedEntry;
import lotproof.gather.TypedRun;
import lotproof.report.text.OutsideText;
import lotproof.study.BenchPlan;
import lotproof.study.DataIssue;
import lotproof.study.PlannedRun;
import lotproof.study.UnitKind;
import picocli.CommandLine.Command;
import picocli.CommandLine.Parameters;

/** Guided typing at the bench. */
@Command(
    name = "enter",
    header = "Type readings at the bench, in the order of the plan.",
    description = {
      "Goes through the planned runs that the record does not hold yet, pair by pair and load by"
          + " load. Each value is held against the limits and against the runs so far; a doubtful"
          + " one is kept after it was typed once more. Every value is saved at once, so that a"
          + " break loses nothing; a finished run goes into the record.",
      "Instead of a value: undo, remark TEXT, skip (another run first), quit, help."
    },
    footer = {"  lotproof enter hive-scale", "  lotproof enter hive-scale < typed.txt"})
final class EnterCommand implements Callable<Integer> {

  private static final List<String> WORDS = List.of("undo", "remark", "skip", "quit", "help");
  private static final String HELP =
      "  a number: the raw counts; undo: take the last value back; remark TEXT: note something"
          + " beside the run;\n  skip: another run first; quit: stop, everything is kept";

  private final Surroundings io;
  private final LotproofCommand program;

  @Parameters(index = "0", paramLabel = "STUDY", description = "the study folder")
  private Path study = Path.of("");

  EnterCommand(Surroundings io, LotproofCommand program) {
    this.io = io;
    this.program = program;
  }

  /** What came of one run. */
  private enum Ending {
    RECORDED,
    SKIPPED,
    STOPPED
  }

  @Override
  public Integer call() {
    StudyContents contents = StudyFolders.open(study);
    StudyFolder folder = StudyFolder.at(study);
    TypedEntry entry = TypedEntry.of(folder, contents, plan(folder));
    if (entry.planned() == 0) {
      throw new UnusableException(
          "study.yaml lists no planned pairs, so there is no order to type in");
    }
    try (Typing typing = new Typing(io)) {
      enter(entry, typing);
    }
    int open = entry.open().size();
    io.out()
        .println(open == 0 ? "All planned runs are recorded." : open + " planned runs are open.");
    io.out().flush();
    return Exit.DONE;
  }

  private static Optional<BenchPlan> plan(StudyFolder folder) {
    BenchPlanFile.Outcome outcome = folder.benchPlan();
    if (outcome instanceof BenchPlanFile.Outcome.Refused refused) {
      throw new UnusableException(List.of(refused.issue()));
    }
    return outcome instanceof BenchPlanFile.Outcome.Planned planned
        ? Optional.of(planned.plan())
        : Optional.empty();
  }

  private void enter(TypedEntry entry, Typing typing) {
    Optional<TypedRun> begun = entry.begun();
    begun.ifPresent(
        run ->
            io.out()
                .println(
                    "Going on with run "
                        + run.planned().run()
                        + ", "
                        + run.outputCounts().size()
                        + " values are kept."));
    int skipped = 0;
    while (true) {
      List<PlannedRun> open = entry.open();
      if (begun.isEmpty() && skipped >= open.size()) {
        return;
      }
      TypedRun run = begun.orElse(null);
      if (run == null) {
        run = TypedRun.of(open.get(skipped));
      }
      Ending ending = one(entry, typing, run, begun.isPresent());
      begun = Optional.empty();
      if (ending == Ending.STOPPED) {
        return;
      }
      skipped += ending == Ending.SKIPPED ? 1 : 0;
    }
  }

  private Ending one(TypedEntry entry, Typing typing, TypedRun start, boolean pairKnown) {
    PlannedRun planned = start.planned();
    io.out()
        .println(
            program
                .palette()
                .strong(
                    String.format(
                        Locale.ROOT,
                        "%s, run %s%s: cell %s on board %s",
                        planned.session(),
                        planned.run(),
                        planned.isCheck() ? " (check standard)" : "",
                        OutsideText.clean(start.cell()),
                        OutsideText.clean(start.board()))));
    // what was begun was asked already
    Optional<TypedRun> run = pairKnown ? Optional.of(start) : pair(entry, typing, start);
    return run.isEmpty() ? Ending.STOPPED : values(entry, typing, run.get());
  }

  /** Asks what is really on the bench. */
  private Optional<TypedRun> pair(TypedEntry entry, Typing typing, TypedRun run) {
    Optional<String> cell = serial(entry, typing, UnitKind.CELL, run.cell());
    if (cell.isEmpty()) {
      return Optional.empty();
    }
    Optional<String> board = serial(entry, typing, UnitKind.BOARD, run.board());
    return board.flatMap(it -> temperatures(typing, run.withPair(cell.get(), it)));
  }

  private Optional<TypedRun> temperatures(Typing typing, TypedRun run) {
    while (true) {
      Optional<String> typed =
          typing.line("  °C at cell and board, such as 21.4 22.6 [not noted]: ", List.of());
      if (typed.isEmpty() || typed.get().equals("quit")) {
        return Optional.empty();
      }
      if (typed.get().isEmpty()) {
        return Optional.of(run);
      }
      String[] parts = typed.get().split("\\s+", -1);
      Optional<Double> cell = celsius(parts[0]);
      Optional<Double> board = celsius(parts[parts.length - 1]);
      if (parts.length <= 2 && cell.isPresent() && board.isPresent()) {
        return Optional.of(
            run.withTemperatures(
                OptionalDouble.of(cell.get()),
                parts.length == 2 ? OptionalDouble.of(board.get()) : OptionalDouble.empty()));
      }
      io.out().println("  one or two temperatures between -60 and 120 °C, or Enter");
    }
  }

  private static Optional<Double> celsius(String text) {
    return UnitsOfMeasure.number(text)
        .map(BigDecimal::doubleValue)
        .filter(value -> ReadingColumn.CELL_TEMPERATURE.outOfRange(value).isEmpty());
  }

  private Optional<String> serial(TypedEntry entry, Typing typing, UnitKind kind, String planned) {
    List<String> known = entry.serials(kind);
    while (true) {
      Optional<String> typed =
          typing.line("  " + kind.word() + " [" + OutsideText.clean(planned) + "]: ", known);
      if (typed.isEmpty() || typed.get().equals("quit")) {
        return Optional.empty();
      }
      if (typed.get().isEmpty() || typed.get().equals(planned)) {
        return Optional.of(planned);
      }
      if (known.contains(typed.get())) {
        io.out().println("  not the planned one; noted as " + typed.get());
        return typed;
      }
      io.out()
          .println(
              "  there is no "
                  + kind.word()
                  + " "
                  + OutsideText.clean(typed.get())
                  + " in the study; Enter takes the planned one, Tab completes");
    }
  }

  private Ending values(TypedEntry entry, Typing typing, TypedRun start) {
    TypedRun run = start;
    String doubted = "";
    keep(entry, run);
    while (true) {
      int step = run.outputCounts().size();
      boolean complete = step == entry.loads().size();
      String prompt =
          complete
              ? "  record this run? [yes]: "
              : String.format(
                  Locale.ROOT,
                  "  %d/%d at %s kg, counts: ",
                  step + 1,
                  entry.loads().size(),
                  UnitsOfMeasure.plain(entry.loads().get(step)));
      Optional<String> typed = typing.line(prompt, WORDS);
      String text = typed.orElse("quit");
      if (text.equals("quit")) {
        io.out().println("Kept as far as it was typed; lotproof enter goes on from here.");
        return Ending.STOPPED;
      } else if (text.equals("help")) {
        io.out().println(HELP);
      } else if (text.equals("skip")) {
        entry.drop();
        return Ending.SKIPPED;
      } else if (text.equals("undo")) {
        Optional<TypedRun> back = run.back();
        io.out().println(back.isPresent() ? "  taken back" : "  there is no value to take back");
        run = back.orElse(run);
        keep(entry, run);
      } else if (text.startsWith("remark ")) {
        run = run.withRemark(text.substring("remark ".length()).strip());
        keep(entry, run);
      } else if (complete) {
        if (text.isEmpty() || text.equals("yes") || text.equals("y")) {
          if (recorded(entry, run)) {
            return Ending.RECORDED;
          }
        } else {
          io.out().println("  yes records it; undo takes the last value back");
        }
      } else {
        Optional<TypedRun> next = value(entry, run, text, doubted.equals(text));
        doubted = next.isPresent() ? "" : text;
        run = next.orElse(run);
        if (next.isPresent()) {
          keep(entry, run);
        }
      }
    }
  }

  private Optional<TypedRun> value(TypedEntry entry, TypedRun run, String text, boolean again) {
    Optional<BigDecimal> number = UnitsOfMeasure.number(text);
    if (number.isEmpty()) {
      io.out()
          .println(
              text.isEmpty()
                  ? "  type the counts, or help"
                  : "  \""
                      + OutsideText.clean(text)
                      + "\" is no number; digits, such as 1234.5, or help");
      return Optional.empty();
    }
    double counts = number.get().doubleValue();
    Optional<String> doubt = entry.doubt(run, counts);
    if (doubt.isPresent() && !again) {
      io.out().println(program.palette().no("  doubtful: ") + doubt.get() + ".");
      io.out().println("  If it is what the bench shows, type it once more.");
      return Optional.empty();
    }
    return Optional.of(run.with(counts));
  }

  private void keep(TypedEntry entry, TypedRun run) {
    List<DataIssue> issues = entry.keep(run);
    if (!issues.isEmpty()) {
      throw new UnusableException(issues);
    }
  }

  private boolean recorded(TypedEntry entry, TypedRun run) {
    AppendOutcome outcome = entry.finish(run);
    if (outcome instanceof AppendOutcome.Refused refused) {
      io.out().flush();
      Issues.print(refused.issues(), io.err());
      io.err().flush();
      return false;
    }
    io.out().println("  " + program.palette().yes("recorded"));
    return true;
  }
}
