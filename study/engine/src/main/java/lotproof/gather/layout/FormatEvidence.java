package lotproof.gather.layout;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.regex.Matcher;
import lotproof.folder.text.ReadingColumn;
import lotproof.folder.text.UnitsOfMeasure;
import lotproof.folder.text.UnitsOfMeasure.Unit;
import lotproof.gather.layout.Question.Choice;
import lotproof.gather.tables.Cell;
import lotproof.gather.tables.Row;
import lotproof.study.DataIssue.Code;

/** What all values of a file together show: decimal mark, order of dates, units behind numbers. */
final class FormatEvidence implements ReadingLayout.Visitor {
  private static final List<ReadingColumn> NUMERIC =
      java.util.Arrays.stream(ReadingColumn.values())
          .filter(c -> c == ReadingColumn.STEP || c.unit().isPresent())
          .toList();

  private final ReadingContext context;
  private final Evidence numbers = new Evidence();
  private final Evidence times = new Evidence();
  private final Map<ReadingColumn, Units> unitless = new EnumMap<>(ReadingColumn.class);
  private final List<Place> texts = new ArrayList<>();
  private int textCount;

  private record Place(int line, String column, String text) {}

  /** The units that stand behind the numbers of a column. */
  private static final class Units {
    private final Map<String, Integer> lines = new LinkedHashMap<>();
    private String header = "";
  }

  FormatEvidence(ReadingContext context) {
    this.context = context;
  }

  @Override
  public void visit(ColumnMap slots, Row row, int line) {
    for (ReadingColumn column : NUMERIC) {
      if (slots.has(column)) {
        number(column, slots.slot(column).orElseThrow(), row, line);
      }
    }
    if (slots.cell(ReadingColumn.TIME, row) instanceof Cell.Text text) {
      Times.look(times, text.value(), line, "time");
    }
    slots
        .day()
        .ifPresent(
            day -> {
              if (day.in(row) instanceof Cell.Text text) {
                Times.look(times, text.value(), line, day.header());
              }
            });
  }

  private void number(ReadingColumn column, ColumnMap.Slot slot, Row row, int line) {
    Cell cell = slot.in(row);
    boolean noUnit = column.unit().isPresent() && slot.conversion().isEmpty();
    if (cell instanceof Cell.Text text) {
      String value = text.value();
      String unit = "";
      char last = value.charAt(value.length() - 1);
      if (last < '0' || last > '9') {
        Matcher parts = RowReader.WITH_UNIT.matcher(value);
        if (parts.matches()) {
          unit = parts.group(2);
          value = parts.group(1).strip();
        }
      }
      Numbers.look(numbers, value, line, slot.header());
      if (slot.index() >= 0) {
        textCount++;
        if (texts.isEmpty()) {
          texts.add(new Place(line, slot.header(), text.value()));
        }
      }
      if (noUnit) {
        unit(column, slot, unit, line);
      }
    } else if (noUnit && cell instanceof Cell.Numeric) {
      unit(column, slot, "", line);
    }
  }

  private void unit(ReadingColumn column, ColumnMap.Slot slot, String unit, int line) {
    Units units = unitless.computeIfAbsent(column, c -> new Units());
    units.header = slot.header();
    if (units.lines.size() < 5) {
      units.lines.putIfAbsent(unit, line);
    }
  }

  Evidence numbers() {
    return numbers;
  }

  Evidence times() {
    return times;
  }

  /** Numbers that are text in a file that stores numbers as numbers. */
  void warnOfText() {
    if (!texts.isEmpty()) {
      Place first = texts.get(0);
      context.warning(
          Code.NOT_A_NUMBER,
          first.line(),
          first.column(),
          ("\"%s\" is stored as text and was read as a number; cells of this kind"
                  + " in the file: %s")
              .formatted(first.text(), textCount));
    }
  }

  /** For columns without a unit in their header: the one that all their cells have. */
  Map<ReadingColumn, Conversion> cellUnits(int headerLine) {
    Map<ReadingColumn, Conversion> found = new EnumMap<>(ReadingColumn.class);
    unitless.forEach(
        (column, units) ->
            cellUnit(column, units, headerLine).ifPresent(u -> found.put(column, u)));
    return found;
  }

  private Optional<Conversion> cellUnit(ReadingColumn column, Units units, int headerLine) {
    String ofHeader = unitOfHeader(units.header);
    if (!ofHeader.isEmpty() || (units.lines.size() == 1 && units.lines.containsKey(""))) {
      noUnit(column, units.header, ofHeader, headerLine);
      return Optional.empty();
    }
    Map<Unit, Integer> known = new LinkedHashMap<>();
    for (Map.Entry<String, Integer> entry : units.lines.entrySet()) {
      Optional<Unit> unit = HeaderCell.unit(column, entry.getKey());
      if (unit.isEmpty() && !entry.getKey().isEmpty()) {
        context.error(
            Code.UNIT_OF_MEASURE_UNKNOWN,
            entry.getValue(),
            units.header,
            "\"" + entry.getKey() + "\" is no unit of " + column.word());
        return Optional.empty();
      }
      unit.ifPresent(u -> known.putIfAbsent(u, entry.getValue()));
    }
    boolean mixed = known.size() > 1 || units.lines.containsKey("");
    if (mixed) {
      List<String> all = new ArrayList<>();
      units.lines.forEach(
          (unit, line) -> all.add((unit.isEmpty() ? "none" : unit) + " in line " + line));
      int second = units.lines.values().stream().skip(1).findFirst().orElse(headerLine);
      context.error(
          Code.UNIT_OF_MEASURE_MIXED,
          second,
          units.header,
          "the column has several units (" + String.join(", ", all) + "); a column has one unit");
      return Optional.empty();
    }
    Unit unit = known.keySet().iterator().next();
    context.fact("unit of " + column.word(), unit.symbol() + ", as its cells say");
    return Optional.of(Conversion.of(column, unit, context.study()));
  }

  /** The unit that a header names, though it is none of its column; else nothing. */
  private String unitOfHeader(String header) {
    return HeaderCell.of(header, context.mapping()) instanceof HeaderCell.Known known
            && known.unit().isEmpty()
        ? known.unitText()
        : "";
  }

  private void noUnit(ReadingColumn column, String header, String symbol, int headerLine) {
    if (HeaderCell.of(header, context.mapping()) instanceof HeaderCell.AtLoad) {
      // The unit of such columns is asked once for all of them.
      return;
    }
    List<Choice> choices = new ArrayList<>();
    for (Unit unit : UnitsOfMeasure.units(column.unit().orElseThrow().dimension())) {
      String meaning = column.word() + " [" + unit.symbol() + "]";
      choices.add(new Choice(meaning, "in " + unit.symbol()));
    }
    if (column == ReadingColumn.OUTPUT) {
      choices.add(new Choice(column.word() + " [mV/V]", "in mV/V"));
    }
    context.askColumn(
        header,
        "In which unit is \"" + header + "\"?",
        choices,
        Code.UNIT_OF_MEASURE_UNKNOWN,
        headerLine,
        Columns.unitTrouble(column, symbol));
  }
}
