package lotproof.gather.layout;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import java.util.stream.Collectors;
import lotproof.folder.ReceivedFile;
import lotproof.folder.text.ReadingColumn;
import lotproof.folder.text.UnitsOfMeasure;
import lotproof.folder.text.UnitsOfMeasure.Unit;
import lotproof.gather.layout.ColumnMap.Conversion;
import lotproof.gather.layout.ColumnMap.Slot;
import lotproof.gather.layout.Question.Choice;
import lotproof.gather.layout.ReadingTable.TurnedTable;
import lotproof.gather.layout.RowReader.RunNamer;
import lotproof.gather.layout.TableChoice.Candidate;
import lotproof.gather.layout.TableChoice.Kind;
import lotproof.gather.tables.Cell;
import lotproof.gather.tables.Fact;
import lotproof.gather.tables.Grid;
import lotproof.gather.tables.Mapping;
import lotproof.gather.tables.Row;
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
   * @param readings of the rows that will do, in file order
   * @param issues what was found; an open question is an error among them
   * @param facts how the file was understood
   * @param columns how its columns were understood
   * @param questions what it leaves open
   */
  public record Understood(
      List<Reading> readings,
      List<DataIssue> issues,
      List<Fact> facts,
      List<ColumnUse> columns,
      List<Question> questions) {
    /** Issues about readings, with the headers of the file in place of those of the record. */
    public List<DataIssue> inItsHeaders(List<DataIssue> of) {
      Map<String, String> headers = new HashMap<>();
      columns.forEach(use -> headers.putIfAbsent(use.meaning(), use.header()));
      return of.stream()
          .map(issue -> issue.inColumn(headers.getOrDefault(issue.column(), issue.column())))
          .toList();
    }

    /** The same of a file that was imported before, about which nothing is asked. */
    public Understood withoutQuestions() {
      return new Understood(readings, issues, facts, columns, List.of());
    }

    public Understood {
      readings = List.copyOf(readings);
      issues = List.copyOf(issues);
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
        readings, context.byLine(), context.facts(), columns, context.questions());
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
                grid,
                candidate.header(),
                candidate.written(),
                List.of(),
                candidate.kind() == Kind.WIDE,
                context);
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
    Numbers loads = numbers.inHeaders(evidence.loads(), context);
    Times times = Times.of(evidence.times(), context);
    RunNamer namer = new RunNamer(context, candidate.kind() == Kind.WIDE);
    RowReader reader = new RowReader(context, numbers, loads, times, cellUnits, namer);
    List<Reading> readings = new ArrayList<>();
    // what is wrong with the shape of the table was told by the first walk
    ReadingContext told = new ReadingContext(context.file(), context.study(), context.mapping());
    table
        .forEach(
            told,
            (places, row, line) ->
                reader.read(places, row, grid.sheet(), line).ifPresent(readings::add))
        .ifPresent(context::add);
    reader.finish();
    boolean sound = table.columns().areSound() && context.questions().isEmpty();
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
      boolean reversed = context.isTold(Setting.SIGN, "reversed");
      context.fact("sign", words + (reversed ? ", after it was reversed as told" : ""));
    }
  }

  /**
   * What all values of a file together show: decimal mark, order of dates, units behind numbers.
   */
  private static final class FormatEvidence {
    private static final int MOST_UNITS = 5;

    private final ReadingContext context;
    private final Evidence numbers = new Evidence();
    private final Evidence loads = new Evidence();
    private final Evidence times = new Evidence();

    /** For columns without a unit in their header: the units behind their numbers, with a line. */
    private final Map<ReadingColumn, Map<String, Integer>> unitless =
        new EnumMap<>(ReadingColumn.class);

    private final Map<ReadingColumn, String> headers = new EnumMap<>(ReadingColumn.class);
    private Optional<Evidence.Sample> text = Optional.empty();
    private int texts;

    FormatEvidence(ReadingContext context) {
      this.context = context;
    }

    /** Of the cells; a load in a header that can be read in two ways is as doubtful as a cell. */
    Evidence numbers() {
      loads.doubt().ifPresent(d -> numbers.take(true, true, d.text(), d.line(), d.column()));
      return numbers;
    }

    /** Of loads in headers. */
    Evidence loads() {
      return loads;
    }

    Evidence times() {
      return times;
    }

    /** Looks at the values of one reading. */
    void look(ColumnMap places, Row row, int line) {
      places
          .slots()
          .forEach(
              (column, slot) -> {
                if (column == ReadingColumn.STEP || column.unit().isPresent()) {
                  number(column, slot, row, line);
                }
              });
      if (places.cell(ReadingColumn.TIME, row) instanceof Cell.Text time) {
        Times.look(times, time.value(), line, "time");
      }
      Slot day = places.beside().get(HeaderCell.Beside.DAY);
      if (day != null && day.in(row) instanceof Cell.Text date) {
        Times.look(times, date.value(), line, day.header());
      }
    }

    private void number(ReadingColumn column, Slot slot, Row row, int line) {
      String unit = "";
      if (slot.in(row) instanceof Cell.Text cell) {
        Numbers.Written written = Numbers.Written.of(cell.value());
        unit = written.unit();
        boolean inHeader = column == ReadingColumn.LOAD && slot.index() < 0;
        Numbers.look(inHeader ? loads : numbers, written.number(), line, slot.header());
        if (slot.index() >= 0) {
          texts++;
          text = text.or(() -> Optional.of(new Evidence.Sample(cell.value(), line, slot.header())));
        }
      } else if (!(slot.in(row) instanceof Cell.Numeric)) {
        return;
      }
      if (column.unit().isPresent() && slot.conversion().isEmpty()) {
        headers.put(column, slot.header());
        Map<String, Integer> units = unitless.computeIfAbsent(column, c -> new LinkedHashMap<>());
        if (units.size() < MOST_UNITS) {
          units.putIfAbsent(unit, line);
        }
      }
    }

    /** Numbers that are text in a file that stores numbers as numbers. */
    void warnOfText() {
      text.ifPresent(
          first ->
              context.warning(
                  Code.NOT_A_NUMBER,
                  first.line(),
                  first.column(),
                  "\"%s\" is stored as text and was read as a number; cells of this kind in the"
                      + " file: %s",
                  first.text(),
                  texts));
    }

    /** For columns without a unit in their header: the one that all their cells have. */
    Map<ReadingColumn, Conversion> cellUnits(int headerLine) {
      Map<ReadingColumn, Conversion> found = new EnumMap<>(ReadingColumn.class);
      unitless.forEach(
          (column, lines) ->
              cellUnit(column, headers.getOrDefault(column, ""), lines, headerLine)
                  .ifPresent(unit -> found.put(column, context.conversion(column, unit))));
      return found;
    }

    private Optional<Unit> cellUnit(
        ReadingColumn column, String header, Map<String, Integer> lines, int headerLine) {
      HeaderCell meaning = HeaderCell.of(header, context.mapping());
      String ofHeader = meaning instanceof HeaderCell.Known known ? known.unitText() : "";
      if (!ofHeader.isEmpty() || lines.keySet().equals(Set.of(""))) {
        if (!(meaning instanceof HeaderCell.AtLoad)) {
          // the unit of columns at a load is asked once for all of them
          askUnit(column, header, ofHeader, headerLine);
        }
        return Optional.empty();
      }
      Set<Unit> known = new LinkedHashSet<>();
      List<String> all = new ArrayList<>();
      for (Map.Entry<String, Integer> entry : lines.entrySet()) {
        String text = entry.getKey();
        Optional<Unit> unit = HeaderCell.unit(column, text);
        if (unit.isEmpty() && !text.isEmpty()) {
          context.error(
              Code.UNIT_OF_MEASURE_UNKNOWN,
              entry.getValue(),
              header,
              "\"" + text + "\" is no unit of " + column.word());
          return Optional.empty();
        }
        unit.ifPresent(known::add);
        all.add((text.isEmpty() ? "none" : text) + " in line " + entry.getValue());
      }
      if (known.size() > 1 || lines.containsKey("")) {
        context.error(
            Code.UNIT_OF_MEASURE_MIXED,
            lines.values().stream().skip(1).findFirst().orElse(headerLine),
            header,
            "the column has several units (" + String.join(", ", all) + "); a column has one unit");
        return Optional.empty();
      }
      Unit unit = known.iterator().next();
      context.fact("unit of " + column.word(), unit.symbol() + ", as its cells say");
      return Optional.of(unit);
    }

    private void askUnit(ReadingColumn column, String header, String symbol, int headerLine) {
      context.askColumn(
          header,
          "In which unit is \"" + header + "\"?",
          ColumnSynonyms.units(column).stream()
              .map(Unit::symbol)
              .map(unit -> new Choice(column.word() + " [" + unit + "]", "in " + unit))
              .toList(),
          Code.UNIT_OF_MEASURE_UNKNOWN,
          headerLine,
          ColumnSynonyms.unitTrouble(column, header, symbol));
    }
  }
}
