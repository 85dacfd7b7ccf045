package lotproof.gather.layout;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import lotproof.folder.text.Nearest;
import lotproof.folder.text.ReadingColumn;
import lotproof.folder.text.UnitsOfMeasure;
import lotproof.folder.text.UnitsOfMeasure.Dimension;
import lotproof.folder.text.UnitsOfMeasure.Unit;

/**
 * What a column of a file may be called instead, so that whoever follows a suggestion gets its
 * numbers converted: with the unit that the file's own header names, or else one suggestion for
 * each unit. A unit is never put in the file's place.
 */
final class Suggestions {
  private static final Pattern LAST_WORD = Pattern.compile(".*[\\s_,/]([^\\s_,/]+)");

  private Suggestions() {}

  /**
   * The meanings that fit a column.
   *
   * @param header how the file names the column, perhaps with a unit
   */
  static List<String> meanings(ReadingColumn column, String header) {
    if (column.unit().isEmpty()) {
      return List.of(column.word());
    }
    Optional<Unit> named = unitIn(header, column);
    return named.map(List::of).orElseGet(() -> units(column)).stream()
        .map(unit -> column.word() + " [" + unit.symbol() + "]")
        .toList();
  }

  /** The units that a column of quantities is usually in. */
  static List<Unit> units(ReadingColumn column) {
    List<Unit> units =
        new ArrayList<>(UnitsOfMeasure.units(column.unit().orElseThrow().dimension()));
    if (column == ReadingColumn.OUTPUT) {
      units.add(Unit.MILLIVOLT_PER_VOLT);
    }
    return units;
  }

  private static Optional<Unit> unitIn(String header, ReadingColumn column) {
    Matcher bracket = HeaderCell.BRACKETED.matcher(header);
    if (bracket.matches()) {
      return HeaderCell.unit(column, bracket.group(2));
    }
    Matcher last = LAST_WORD.matcher(header);
    return last.matches() ? HeaderCell.unit(column, last.group(1)) : Optional.empty();
  }

  /**
   * Meanings of the column that a header most likely has: the most similar one, of those that have
   * the unit which the header names; where none is similar, all of those.
   */
  static List<String> of(String header) {
    List<ReadingColumn> all = List.of(ReadingColumn.values());
    List<ReadingColumn> fitting =
        all.stream().filter(column -> unitIn(header, column).isPresent()).toList();
    Map<String, ReadingColumn> byHeader = new LinkedHashMap<>();
    (fitting.isEmpty() ? all : fitting).forEach(column -> byHeader.put(column.header(), column));
    Optional<ReadingColumn> nearest = Nearest.to(header, byHeader.keySet()).map(byHeader::get);
    return nearest.map(List::of).orElse(fitting).stream()
        .flatMap(column -> meanings(column, header).stream())
        .toList();
  }

  /** For messages: the likely meanings as a question, or else all columns. */
  static String hint(String header) {
    List<String> meanings = of(header);
    return meanings.isEmpty()
        ? "the columns are: " + String.join(", ", ReadingColumn.headers())
        : "did you mean \"" + String.join("\" or \"", meanings) + "\"?";
  }

  /** What is wrong with the unit of a column's header, and what would be right. */
  static String unitTrouble(ReadingColumn column, String symbol) {
    Dimension dimension = column.unit().orElseThrow().dimension();
    String why =
        switch (symbol) {
          case "" -> "the column has no unit";
          case "%", "ppm" -> "of what the \"" + symbol + "\" is, is not said";
          default -> "\"" + symbol + "\" is no unit of " + dimension.words();
        };
    boolean several = UnitsOfMeasure.units(dimension).size() > 1;
    return "%s; write %s%s"
        .formatted(
            why,
            column.header(),
            several ? ", with " + UnitsOfMeasure.symbols(dimension) + " in the brackets" : "");
  }
}
