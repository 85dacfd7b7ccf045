package lotproof.gather.layout;

import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.stream.Collectors;
import lotproof.folder.text.ReadingColumn;
import lotproof.folder.text.UnitsOfMeasure;
import lotproof.folder.text.UnitsOfMeasure.Unit;
import lotproof.gather.layout.ColumnMap.Conversion;
import lotproof.gather.layout.ColumnMap.Slot;
import lotproof.gather.layout.HeaderCell.AtLoad;
import lotproof.gather.layout.Question.Choice;
import lotproof.gather.tables.Cell;
import lotproof.gather.tables.Mapping;
import lotproof.gather.tables.Row;
import lotproof.gather.tables.Setting;
import lotproof.study.DataIssue.Code;
import lotproof.study.Result;

/** Which column of a table means what, and in which unit; what cannot be known is asked. */
final class Columns {
  private final ReadingContext context;
  private final Row header;
  private final ColumnMap slots = new ColumnMap();
  private final Map<Integer, AtLoad> loads = new TreeMap<>();
  private final List<Map<ReadingColumn, Slot>> steps = new ArrayList<>();
  private final List<ColumnUse> uses = new ArrayList<>();
  private final List<String> unknown = new ArrayList<>();
  private boolean sound = true;

  private Columns(ReadingContext context, Row header) {
    this.context = context;
    this.header = header;
  }

  /**
   * Reads a header row.
   *
   * @param wide whether columns hold the outputs of one run at its loads
   */
  static Columns of(Row header, ReadingContext context, boolean wide) {
    Columns columns = new Columns(context, header);
    for (int i = 0; i < header.cells().size(); i++) {
      String text = header.cell(i).shown();
      if (!text.isEmpty()) {
        columns.take(i, text);
      } else if (!(header.cell(i) instanceof Cell.Blank)) {
        columns.error(Code.COLUMN_UNKNOWN, position(i), "a column name must be text");
      }
    }
    context.mapping().values().forEach(columns::constant);
    columns.askUnknown(wide);
    if (wide) {
      columns.findSteps();
    }
    columns.uses.sort(Comparator.comparingInt(ColumnUse::position));
    return columns;
  }

  /** Where the values of a row stand. */
  ColumnMap slots() {
    return slots;
  }

  /** Where load, step and output of each reading of a row stand, when it holds a whole run. */
  List<Map<ReadingColumn, Slot>> steps() {
    return steps;
  }

  /** Whether every column is understood. */
  boolean areSound() {
    return sound;
  }

  List<ColumnUse> uses() {
    return uses;
  }

  static String position(int index) {
    return "column " + (index + 1);
  }

  private void take(int index, String text) {
    HeaderCell cell = context.header(text);
    if (cell instanceof HeaderCell.Known known) {
      known(index, text, known);
    } else if (cell instanceof AtLoad load) {
      loads.put(index, load);
    } else if (cell instanceof HeaderCell.Beside beside) {
      slots.beside().put(beside, Slot.column(text, index, Optional.empty()));
      use(index, beside.what(), Optional.empty());
    } else if (cell instanceof HeaderCell.Unclear unclear) {
      unclear(text, unclear);
    } else if (cell instanceof HeaderCell.Ignored) {
      use(index, "left out", Optional.empty());
    } else {
      unknown.add(text);
    }
  }

  /** Asks what columns are whose names say nothing: what the table lacks is likely among them. */
  private void askUnknown(boolean wide) {
    List<ReadingColumn> lacking =
        ReadingTable.NEEDED.stream()
            .filter(column -> !slots.has(column) && !(wide && column.unit().isPresent()))
            .toList();
    for (String text : unknown) {
      List<String> meanings = new ArrayList<>(ColumnSynonyms.suggestions(text));
      if (meanings.isEmpty()) {
        lacking.forEach(column -> meanings.addAll(ColumnSynonyms.suggestions(column, text)));
      }
      String what = "\"" + text + "\" is no column of readings";
      ask(
          text,
          what + ". What is it?",
          meanings.stream().map(meaning -> new Choice(meaning, "it is " + meaning)).toList(),
          Code.COLUMN_UNKNOWN,
          what
              + meanings.stream()
                  .limit(1)
                  .map(
                      first ->
                          "; if it is " + first + ", say " + ColumnSynonyms.option(text, first))
                  .collect(Collectors.joining())
              + "; to leave it out, say "
              + ColumnSynonyms.option(text, Mapping.IGNORE)
              + (meanings.size() == 1
                  ? ""
                  : " (the columns are: " + String.join(", ", ReadingColumn.headers()) + ")"));
    }
  }

  private void use(int index, String meaning, Optional<Conversion> conversion) {
    uses.add(
        new ColumnUse(
            index + 1,
            header.cell(index).shown(),
            meaning,
            conversion.map(Conversion::words).orElse("")));
  }

  private void known(int index, String text, HeaderCell.Known known) {
    ReadingColumn column = known.column();
    Optional<Slot> earlier = slots.slot(column);
    if (earlier.isPresent()) {
      error(
          Code.COLUMN_REPEATED,
          text,
          "%s means %s, as %s does (\"%s\"); keep one",
          position(index),
          column.word(),
          position(earlier.get().index()),
          earlier.get().header());
      return;
    }
    Optional<Conversion> conversion = known.unit().map(unit -> context.conversion(column, unit));
    slots.slots().put(column, Slot.column(text, index, conversion));
    use(index, column.header(), conversion);
    if (known.unit().equals(Optional.of(Unit.NEWTON))) {
      context.warning(
          Code.UNIT_OF_MEASURE_DOUBTFUL,
          header.number(),
          text,
          "forces become masses by standard gravity, 9.80665 m/s²; gravity on the bench can"
              + " differ by 0.3 %, which is more than most figures allow");
    }
  }

  private void unclear(String text, HeaderCell.Unclear unclear) {
    String what = String.join(" or ", unclear.columns().stream().map(ReadingColumn::word).toList());
    List<Choice> choices =
        unclear.columns().stream()
            .filter(column -> !slots.has(column))
            .flatMap(column -> ColumnSynonyms.suggestions(column, text).stream())
            .map(meaning -> new Choice(meaning, "it is the " + meaning))
            .toList();
    ask(
        text,
        "Does \"" + text + "\" mean " + what + "?",
        choices,
        Code.AMBIGUOUS,
        "\"%s\" can mean %s; it is not guessed: say %s"
            .formatted(
                text,
                what,
                choices.isEmpty()
                    ? ColumnSynonyms.option(text, Mapping.IGNORE)
                    : choices.stream()
                        .map(choice -> ColumnSynonyms.option(text, choice.value()))
                        .collect(Collectors.joining(" or "))));
  }

  private void ask(String text, String question, List<Choice> meant, Code code, String error) {
    sound = false;
    List<Choice> choices = new ArrayList<>(meant);
    choices.add(new Choice(Mapping.IGNORE, "leave it out"));
    context.askColumn(text, question, choices, code, header.number(), error);
  }

  /** Fills in what people said about all readings of the file. */
  private void constant(ReadingColumn column, String value) {
    if (slots.has(column)) {
      error(
          Code.COLUMN_REPEATED,
          column.header(),
          "a value for all readings was given, and the file has the column too; leave one out");
      return;
    }
    Slot slot = Slot.constant(column.header(), new Cell.Text(value), Optional.empty());
    if (column.unit().isPresent()) {
      Result<UnitsOfMeasure.Quantity> read =
          UnitsOfMeasure.quantity(value, column.unit().get().dimension());
      if (read.isRefused()) {
        error(
            Code.MAPPING_INVALID,
            column.header(),
            "\"" + value + "\" is no value with unit for " + column.word());
        return;
      }
      slot = quantity(column.header(), column, read.get().value(), read.get().unit());
    }
    slots.slots().put(column, slot);
    context.fact(column.word() + " of all readings", value + ", as told");
  }

  private Slot quantity(String name, ReadingColumn column, BigDecimal number, Unit unit) {
    return Slot.constant(
        name,
        new Cell.Numeric(number, number.toPlainString()),
        Optional.of(context.conversion(column, unit)));
  }

  private void findSteps() {
    boolean told = loads.values().stream().anyMatch(load -> load.step().isPresent());
    Optional<Unit> first = Optional.empty();
    int number = 0;
    for (Map.Entry<Integer, AtLoad> entry : loads.entrySet()) {
      int index = entry.getKey();
      AtLoad load = entry.getValue();
      String name = header.cell(index).shown();
      int before = number;
      number = told ? load.step().orElse(0) : number + 1;
      if (number <= before) {
        error(
            Code.AMBIGUOUS,
            name,
            "the steps in the headers do not rise from left to right; number all of them or none");
        number = before + 1;
      }
      Optional<Unit> unit = outputUnit(name, load);
      if (unit.isPresent() && first.isPresent() && !unit.equals(first)) {
        error(
            Code.UNIT_OF_MEASURE_MIXED,
            name,
            "this column is in %s and one before it in %s; the outputs of a file have one unit",
            unit.get().symbol(),
            first.get().symbol());
      }
      first = first.or(() -> unit);
      step(index, number, load, unit);
    }
    for (ReadingColumn extra :
        List.of(ReadingColumn.LOAD, ReadingColumn.OUTPUT, ReadingColumn.STEP)) {
      slots
          .slot(extra)
          .ifPresent(
              slot ->
                  error(
                      Code.COLUMN_REPEATED,
                      slot.header(),
                      "the loads stand in the headers of other columns; this column has no place"));
    }
  }

  private void step(int index, int number, AtLoad load, Optional<Unit> outputUnit) {
    String name = header.cell(index).shown();
    Optional<Conversion> output =
        outputUnit.map(unit -> context.conversion(ReadingColumn.OUTPUT, unit));
    Conversion mass = context.conversion(ReadingColumn.LOAD, load.loadUnit());
    Cell step = new Cell.Numeric(BigDecimal.valueOf(number), String.valueOf(number));
    steps.add(
        Map.of(
            ReadingColumn.LOAD,
            Slot.constant(name, new Cell.Text(load.number()), Optional.of(mass)),
            ReadingColumn.STEP,
            Slot.constant(name, step, Optional.empty()),
            ReadingColumn.OUTPUT,
            Slot.column(name, index, output)));
    use(
        index,
        "output [counts] at step %s, load %s %s"
            .formatted(number, load.number(), load.loadUnit().symbol()),
        output);
  }

  private Optional<Unit> outputUnit(String name, AtLoad load) {
    if (load.outputUnit().isPresent()) {
      return load.outputUnit();
    }
    if (!load.unitText().isEmpty()) {
      error(
          Code.UNIT_OF_MEASURE_UNKNOWN,
          name,
          "\"%s\" is no unit of converter output; write [counts] or [mV/V]",
          load.unitText());
      return Optional.empty();
    }
    Optional<Unit> told = context.told(Setting.OUTPUT_UNIT).flatMap(HeaderCell::outputUnit);
    if (told.isEmpty()) {
      context.ask(
          Setting.OUTPUT_UNIT,
          "In which unit are the outputs? The headers do not say",
          List.of(new Choice("counts", "converter counts"), new Choice("mV/V", "bridge signal")),
          header.number(),
          name);
    }
    return told;
  }

  private void error(Code code, String column, String message, Object... values) {
    sound = false;
    context.error(code, header.number(), column, message, values);
  }
}
