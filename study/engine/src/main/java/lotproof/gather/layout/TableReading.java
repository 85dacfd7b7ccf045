package lotproof.gather.layout;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.stream.Collectors;
import lotproof.folder.Batch;
import lotproof.folder.ReceivedFile;
import lotproof.folder.text.ReadingColumn;
import lotproof.folder.text.UnitsOfMeasure;
import lotproof.gather.layout.TableChoice.Candidate;
import lotproof.gather.layout.TableChoice.Kind;
import lotproof.gather.tables.Fact;
import lotproof.gather.tables.Grid;
import lotproof.gather.tables.Mapping;
import lotproof.gather.tables.Setting;
import lotproof.reduce.PlannedLoads;
import lotproof.study.DataIssue;
import lotproof.study.DataIssue.Code;
import lotproof.study.Reading;
import lotproof.study.Result;
import lotproof.study.Study;

/**
 * A received file to readings. Looks at the file and the study alone; what the record says about
 * the readings is checked by the folder.
 */
public final class TableReading {
  private static final int MOST_LOADS = 6;

  private final ReadingContext context;

  /**
   * What a file gave.
   *
   * @param batch readings of the rows that will do, and all issues; an open question is an error
   *     among them
   * @param facts how the file was understood
   * @param columns how its columns were understood
   * @param questions what it leaves open
   */
  public record Understood(
      Batch batch, List<Fact> facts, List<ColumnUse> columns, List<Question> questions) {
    /** Issues about readings, with the headers of the file in place of those of the record. */
    public List<DataIssue> inItsHeaders(List<DataIssue> of) {
      Map<String, String> headers = new HashMap<>();
      columns.forEach(use -> headers.putIfAbsent(use.meaning(), use.header()));
      return of.stream()
          .map(issue -> issue.inColumn(headers.getOrDefault(issue.column(), issue.column())))
          .toList();
    }

    public Understood {
      facts = List.copyOf(facts);
      columns = List.copyOf(columns);
      questions = List.copyOf(questions);
    }
  }

  private TableReading(ReceivedFile file, Study study, Mapping mapping) {
    this.context = new ReadingContext(file, study, mapping);
  }

  /**
   * Reads a file.
   *
   * @param outcome its rows, in each way in which they can be read
   * @param mapping what people said about it
   */
  public static Understood read(
      ReceivedFile file, Result<List<Grid>> outcome, Study study, Mapping mapping) {
    TableReading reading = new TableReading(file, study, mapping);
    if (outcome.isRefused()) {
      reading.context.issues().addAll(outcome.issues());
      return reading.result(List.of(), List.of());
    }
    return new TableChoice(reading.context)
        .of(outcome.get())
        .map(reading::read)
        .orElseGet(() -> reading.result(List.of(), List.of()));
  }

  private Understood result(List<Reading> readings, List<ColumnUse> columns) {
    return new Understood(
        new Batch(readings, context.byLine()), context.facts(), columns, context.questions());
  }

  private Understood read(Candidate candidate) {
    Grid grid = candidate.grid();
    if (candidate.kind() == Kind.TURNED) {
      grid.issues().forEach(context::add);
    } else {
      context.addIssuesOf(grid, candidate.header());
    }
    context.facts().addAll(0, grid.facts());
    context.askForConcealed(
        grid,
        candidate.header(),
        part ->
            part.column() < 0
                || candidate.kind() == Kind.TURNED
                || !candidate.header().cell(part.column()).shown().isEmpty());
    ReadingTable table =
        candidate.kind() == Kind.TURNED
            ? TurnedTable.of(grid, context, candidate.header())
            : new ReadingTable(
                grid, candidate.header(), List.of(), candidate.kind() == Kind.WIDE, context);
    List<ColumnUse> uses = table.columns().uses();
    FormatEvidence evidence = new FormatEvidence(context);
    Optional<DataIssue> broken = table.forEach(context, evidence::look);
    if (broken.isPresent()) {
      context.add(broken.get());
      return result(List.of(), uses);
    }
    context.facts().add(0, new Fact("layout", table.words()));
    Map<ReadingColumn, Conversion> cellUnits = evidence.cellUnits(candidate.header().number());
    Numbers numbers = Numbers.of(evidence.numbers(), grid, context);
    Times times = Times.of(evidence.times(), context);
    boolean sound = table.columns().areSound() && context.questions().isEmpty();
    RunNamer namer = new RunNamer(context, candidate.kind() == Kind.WIDE);
    RowReader reader = new RowReader(context, numbers, times, cellUnits, namer);
    List<Reading> readings = new ArrayList<>();
    // what is wrong with the shape of the table was told by the first walk
    ReadingContext told = new ReadingContext(context.file(), context.study(), context.mapping());
    table
        .forEach(
            told,
            (places, row, line) ->
                reader.read(places, row, grid.sheet(), line).ifPresent(readings::add))
        .ifPresent(context::add);
    boolean noNumber = context.issues().stream().anyMatch(i -> i.code() == Code.NOT_A_NUMBER);
    if (grid.isTyped() && !noNumber) {
      evidence.warnOfText();
    }
    if (namer.namedRuns()) {
      context.fact("run", "named by session, cell and board, because the file names no runs");
    }
    if (namer.countedSteps()) {
      context.fact("step", "counted in the order of the file, because it numbers no steps");
    }
    signFact(readings);
    loadFact(readings);
    // what else is wrong with runs that cannot be told apart follows from that alone
    return result(sound && !namer.isUnsure() ? readings : List.of(), uses);
  }

  /** Masses that stand for a planned load without being written as it. */
  private void loadFact(List<Reading> readings) {
    Map<Double, Double> planned = new TreeMap<>();
    for (Reading reading : readings) {
      PlannedLoads.of(reading, context.study()).stream()
          .filter(load -> load != reading.loadKilograms())
          .forEach(load -> planned.put(reading.loadKilograms(), load));
    }
    if (!planned.isEmpty()) {
      String some =
          planned.entrySet().stream()
              .limit(MOST_LOADS)
              .map(
                  e ->
                      UnitsOfMeasure.plain(e.getKey())
                          + " kg as "
                          + UnitsOfMeasure.plain(e.getValue())
                          + " kg")
              .collect(Collectors.joining(", "));
      String more = planned.size() > MOST_LOADS ? ", ..." : "";
      context.fact(
          "taken as planned loads", some + more + "; errors are against the mass as written");
    }
  }

  /** Whether the output rises with the load, run by run. */
  private void signFact(List<Reading> readings) {
    Map<String, Reading> first = new HashMap<>();
    Map<String, Boolean> rises = new HashMap<>();
    for (Reading reading : readings) {
      Reading before = first.computeIfAbsent(reading.run(), run -> reading);
      double load = reading.loadKilograms() - before.loadKilograms();
      double output = reading.outputCounts() - before.outputCounts();
      if (load != 0 && output != 0) {
        rises.putIfAbsent(reading.run(), load > 0 == output > 0);
      }
    }
    long falling = rises.values().stream().filter(up -> !up).count();
    if (!rises.isEmpty()) {
      String words =
          falling == 0
              ? "the output rises with the load in all runs"
              : "the output falls with the load in "
                  + (falling == rises.size() ? "all" : falling)
                  + " runs";
      boolean reversed = context.told(Setting.SIGN).filter("reversed"::equals).isPresent();
      context.fact("sign", words + (reversed ? ", after it was reversed as told" : ""));
    }
  }
}
