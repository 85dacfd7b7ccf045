package lotproof.gather.layout;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.regex.Matcher;
import lotproof.folder.text.ReadingColumn;
import lotproof.folder.text.UnitsOfMeasure.Unit;
import lotproof.gather.layout.ColumnMap.Slot;
import lotproof.gather.layout.Question.Choice;
import lotproof.gather.tables.Cell;
import lotproof.gather.tables.Row;
import lotproof.study.DataIssue.Code;

/** What all values of a file together show: decimal mark, order of dates, units behind numbers. */
final class FormatEvidence {
  private static final int MOST_UNITS = 5;

  private final ReadingContext context;
  private final Evidence numbers = new Evidence();
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

  Evidence numbers() {
    return numbers;
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
      String value = cell.value();
      Matcher parts = RowReader.WITH_UNIT.matcher(value);
      if (!Character.isDigit(value.charAt(value.length() - 1)) && parts.matches()) {
        unit = parts.group(2);
        value = parts.group(1).strip();
      }
      Numbers.look(numbers, value, line, slot.header());
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
                "\"%s\" is stored as text and was read as a number; cells of this kind in the file: %s"
                    .formatted(first.text(), texts)));
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
        Suggestions.units(column).stream()
            .map(Unit::symbol)
            .map(unit -> new Choice(column.word() + " [" + unit + "]", "in " + unit))
            .toList(),
        Code.UNIT_OF_MEASURE_UNKNOWN,
        headerLine,
        Suggestions.unitTrouble(column, symbol));
  }
}
