package lotproof.gather.layout;

import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import lotproof.folder.text.ReadingColumn;
import lotproof.folder.text.UnitsOfMeasure;
import lotproof.folder.text.UnitsOfMeasure.Unit;
import lotproof.gather.layout.Question.Choice;
import lotproof.gather.tables.Cell;
import lotproof.gather.tables.Grid;
import lotproof.gather.tables.Mapping;
import lotproof.gather.tables.Row;
import lotproof.study.DataIssue.Code;
import lotproof.study.Result;

/** Which column of a table means what, and in which unit. */
final class Columns {
  /** A column that holds the output at one load. */
  record AtLoadColumn(int index, String header, HeaderCell.AtLoad load) {}

  private final ReadingContext context;
  private final Row header;
  private final ColumnMap slots = new ColumnMap();
  private final Map<ReadingColumn, Integer> taken = new EnumMap<>(ReadingColumn.class);
  private final List<AtLoadColumn> loads = new ArrayList<>();
  private final List<ColumnUse> uses = new ArrayList<>();
  private final Set<Integer> named = new TreeSet<>();
  private final Set<Integer> toldNameless = new TreeSet<>();
  private boolean sound = true;

  private Columns(ReadingContext context, Row header) {
    this.context = context;
    this.header = header;
  }

  /** Reads a header row; what cannot be known becomes a question. */
  static Columns of(Row header, ReadingContext context) {
    Columns columns = new Columns(context, header);
    for (int i = 0; i < header.cells().size(); i++) {
      String text = header.cell(i).shown();
      if (!text.isEmpty()) {
        columns.take(i, text);
      } else if (!(header.cell(i) instanceof Cell.Blank)) {
        columns.error(Code.COLUMN_UNKNOWN, columns.position(i), "a column name must be text");
      }
    }
    return columns;
  }

  ColumnMap slots() {
    return slots;
  }

  List<AtLoadColumn> loads() {
    return loads;
  }

  /** Whether every column is understood. */
  boolean areSound() {
    return sound;
  }

  int headerLine() {
    return header.number();
  }

  /**
   * Names what is wrong with the length of a row: cut short, or more than the header names, once
   * for each column.
   */
  void judge(Row row, Grid grid) {
    int fields = row.cells().size();
    context.judgeLength(row, header.cells().size(), grid);
    for (int i = 0; i < fields; i++) {
      boolean holds = !(row.cell(i) instanceof Cell.Blank || row.cell(i) instanceof Cell.LeftOut);
      boolean nameless = !named.contains(i) && holds;
      if (nameless && toldNameless.add(i)) {
        context.error(
            Code.COLUMN_UNKNOWN,
            row.number(),
            position(i),
            "there is a value in a column that has no name");
      }
    }
  }

  List<ColumnUse> uses() {
    uses.sort(Comparator.comparingInt(ColumnUse::position));
    return uses;
  }

  private void take(int index, String text) {
    named.add(index);
    HeaderCell cell = HeaderCell.of(text, context.mapping());
    if (cell instanceof HeaderCell.Known known) {
      known(index, text, known);
    } else if (cell instanceof HeaderCell.AtLoad load) {
      loads.add(new AtLoadColumn(index, text, load));
    } else if (cell instanceof HeaderCell.Day) {
      slots.day(ColumnMap.Slot.column(text, index, Optional.empty()));
      use(index, text, "the day of the time", "");
    } else if (cell instanceof HeaderCell.LotOf lot) {
      slots.lot(lot.kind(), ColumnMap.Slot.column(text, index, Optional.empty()));
      use(index, text, "lot of the " + lot.kind().key(), "");
    } else if (cell instanceof HeaderCell.Unclear unclear) {
      unclear(text, unclear);
    } else if (cell instanceof HeaderCell.Ignored) {
      use(index, text, "left out", "");
    } else {
      unknown(text);
    }
  }

  private void use(int index, String text, String meaning, String conversion) {
    uses.add(new ColumnUse(index + 1, text, meaning, conversion));
  }

  private void known(int index, String text, HeaderCell.Known known) {
    ReadingColumn column = known.column();
    Integer earlier = taken.putIfAbsent(column, index);
    if (earlier != null) {
      error(
          Code.COLUMN_REPEATED,
          text,
          "%s means %s, as %s does (\"%s\"); keep one"
              .formatted(
                  position(index), column.word(), position(earlier), header.cell(earlier).shown()));
      return;
    }
    Optional<Conversion> conversion =
        known.unit().map(unit -> Conversion.of(column, unit, context.study()));
    slots.put(column, ColumnMap.Slot.column(text, index, conversion));
    use(index, text, column.header(), conversion.map(Conversion::words).orElse(""));
    warnOfNewtons(text, known.unit());
  }

  private void warnOfNewtons(String text, Optional<Unit> unit) {
    if (unit.equals(Optional.of(Unit.NEWTON))) {
      context.warning(
          Code.UNIT_OF_MEASURE_DOUBTFUL,
          header.number(),
          text,
          "forces become masses by standard gravity, 9.80665 m/s²; gravity on the bench can"
              + " differ by 0.3 %, which is more than most figures allow");
    }
  }

  /**
   * What is wrong with the unit of a quantity, and what would be right.
   *
   * @param symbol the unit in the header, empty when there is none
   */
  static String unitTrouble(ReadingColumn column, String symbol) {
    UnitsOfMeasure.Dimension dimension = column.unit().orElseThrow().dimension();
    String why = "\"" + symbol + "\" is no unit of " + dimension.words();
    if (symbol.isEmpty()) {
      why = "the column has no unit";
    } else if (symbol.equals("%") || symbol.equals("ppm")) {
      why = "of what the \"" + symbol + "\" is, is not said";
    }
    boolean several = UnitsOfMeasure.units(dimension).size() > 1;
    return "%s; write %s%s"
        .formatted(
            why,
            column.header(),
            several ? ", with " + UnitsOfMeasure.symbols(dimension) + " in the brackets" : "");
  }

  private void unclear(String text, HeaderCell.Unclear unclear) {
    sound = false;
    List<ReadingColumn> free =
        unclear.columns().stream().filter(c -> !taken.containsKey(c)).toList();
    String what = String.join(" or ", unclear.columns().stream().map(ReadingColumn::word).toList());
    List<Choice> choices = new ArrayList<>();
    for (ReadingColumn column : free) {
      for (String meaning : Suggestions.meanings(column, text)) {
        choices.add(new Choice(meaning, "it is the " + meaning));
      }
    }
    choices.add(new Choice(Mapping.IGNORE, "leave it out"));
    context.askColumn(
        text,
        "Does \"" + text + "\" mean " + what + "?",
        choices,
        Code.AMBIGUOUS,
        header.number(),
        "\"%s\" can mean %s; it is not guessed: say --column \"%s=%s\""
            .formatted(text, what, text, choices.get(0).value()));
  }

  private void unknown(String text) {
    sound = false;
    String hint = Suggestions.hint(text);
    List<Choice> choices = new ArrayList<>();
    Suggestions.of(text).forEach(meaning -> choices.add(new Choice(meaning, "it is " + meaning)));
    choices.add(new Choice(Mapping.IGNORE, "leave it out"));
    context.askColumn(
        text,
        "\"" + text + "\" is no column of readings. What is it?",
        choices,
        Code.COLUMN_UNKNOWN,
        header.number(),
        "\"" + text + "\" is no column of readings; " + hint);
  }

  /** Fills in what people said about all readings of the file. */
  void constants() {
    context.mapping().values().forEach(this::constant);
  }

  private void constant(ReadingColumn column, String value) {
    if (slots.has(column)) {
      error(
          Code.COLUMN_REPEATED,
          column.header(),
          "a value for all readings was given, and the file has the column too; leave one out");
      return;
    }
    Cell cell = new Cell.Text(value);
    Optional<Conversion> conversion = Optional.empty();
    if (column.unit().isPresent()) {
      UnitsOfMeasure.Dimension dimension = column.unit().get().dimension();
      Result<UnitsOfMeasure.Quantity> read = UnitsOfMeasure.quantity(value, dimension);
      if (read.isRefused()) {
        error(
            Code.MAPPING_INVALID,
            column.header(),
            "\"" + value + "\" is no value with unit for " + column.word());
        return;
      }
      BigDecimal number = read.get().value();
      cell = new Cell.Numeric(number, number.toPlainString());
      conversion = Optional.of(Conversion.of(column, read.get().unit(), context.study()));
    }
    slots.put(column, ColumnMap.Slot.constant(column.header(), cell, conversion));
    context.fact(column.word() + " of all readings", value + ", as told");
  }

  String position(int index) {
    return "column " + (index + 1);
  }

  private void error(Code code, String column, String message) {
    sound = false;
    context.error(code, header.number(), column, message);
  }
}
