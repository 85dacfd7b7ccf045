package lotproof.gather.layout;

import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import lotproof.folder.text.ReadingColumn;
import lotproof.folder.text.UnitsOfMeasure;
import lotproof.folder.text.UnitsOfMeasure.Dimension;
import lotproof.folder.text.UnitsOfMeasure.Unit;
import lotproof.gather.tables.Mapping;
import lotproof.study.UnitKind;

/** What one cell of a header row says. */
sealed interface HeaderCell {
  /** A longer text is no name of a column, and the patterns below would go through it for long. */
  int LONGEST = 1000;

  Pattern BRACKETED = Pattern.compile("(.*?)\\s*[\\[(]\\s*([^\\[\\]()]*?)\\s*[\\])]");
  Pattern PARENTHESES = Pattern.compile("\\(([^()]*)\\)");

  /** A load with its unit, and around it only words that say that it is one. */
  Pattern LOAD =
      Pattern.compile(
          "(?:(?:step|point|no\\.?|#)?\\s*(?<step>\\d{1,3})\\s*[:.)\\-]\\s+|(?:step|point)\\s*(?<named>\\d{1,3})\\s+)?"
              + "(?:(?:mean\\s+)?(?:output|reading|counts|signal|raw)\\s+)?(?:(?:at|@)\\s*)?(?:(?:load|mass)\\s*)?(?<number>[+-]?\\d[\\d.,]*)\\s*(?<unit>[a-z]{1,4}|%"
              + " of capacity)"
              + "(?:\\s*(?:load|up|down|rising|falling|loading|unloading|increasing|decreasing"
              + "|first|second|again|back|return|repeat|counts|\\u2191|\\u2193|\\+|-|#?\\d{1,2}))*",
          Pattern.CASE_INSENSITIVE);

  /** A column of readings. The unit as text is empty when none is given. */
  record Known(ReadingColumn column, Optional<Unit> unit, String unitText) implements HeaderCell {}

  /** A name that can mean several columns. */
  record Unclear(List<ReadingColumn> columns) implements HeaderCell {}

  /** The output at one load. The unit of the output as text is empty when none is given. */
  record AtLoad(
      String number, Unit loadUnit, OptionalInt step, Optional<Unit> outputUnit, String unitText)
      implements HeaderCell {}

  /** What helps to read other columns: the day of a time, the lot of a unit. */
  record Beside(String what) implements HeaderCell {
    /** The day of the readings, when the time stands in another column. */
    static final Beside DAY = new Beside("the day of the time");

    static Beside lotOf(UnitKind kind) {
      return new Beside("lot of the " + kind.key());
    }
  }

  /** A column that a person left out. */
  record Ignored() implements HeaderCell {}

  /** A name that means nothing here. */
  record Unknown() implements HeaderCell {}

  /** Reads one header. */
  static HeaderCell of(String header, Mapping mapping) {
    String told = mapping.columns().get(header);
    if (told != null) {
      return told.equals(Mapping.IGNORE) ? new Ignored() : of(told, Mapping.none());
    }
    if (header.length() > LONGEST) {
      return new Unknown();
    }
    HeaderCell load = atLoad(header);
    if (!(load instanceof Unknown)) {
      return load;
    }
    Matcher parts = BRACKETED.matcher(header);
    boolean bracketed = parts.matches();
    String plain = ColumnSynonyms.plain(bracketed ? parts.group(1) : header);
    if (plain.equals("date") || plain.equals("day")) {
      return Beside.DAY;
    }
    for (UnitKind kind : UnitKind.values()) {
      if (plain.equals(kind.key() + " lot") || plain.equals("lot of " + kind.key())) {
        return Beside.lotOf(kind);
      }
    }
    Set<ReadingColumn> meanings = ColumnSynonyms.meanings(plain);
    if (!meanings.isEmpty()) {
      return named(meanings, plain, bracketed ? parts.group(2) : "");
    }
    return bracketed ? new Unknown() : unitBehind(header);
  }

  private static HeaderCell named(Set<ReadingColumn> meanings, String plain, String unitText) {
    if (meanings.size() > 1) {
      List<ReadingColumn> fitting =
          meanings.stream()
              .filter(c -> unitText.isEmpty() || unit(c, unitText).isPresent())
              .toList();
      return fitting.size() == 1
          ? new Known(fitting.get(0), unit(fitting.get(0), unitText), unitText)
          : new Unclear(List.copyOf(meanings));
    }
    ReadingColumn column = meanings.iterator().next();
    if (column.unit().isEmpty()) {
      boolean plainName = unitText.isEmpty() || column == ReadingColumn.TIME;
      Optional<Unit> output =
          column == ReadingColumn.BOARD ? outputUnit(unitText) : Optional.empty();
      // a board has no counts; what the converter gives has
      return output.isPresent()
          ? new Known(ReadingColumn.OUTPUT, output, unitText)
          : plainName ? new Known(column, Optional.empty(), "") : new Unknown();
    }
    boolean counts =
        unitText.isEmpty() && ColumnSynonyms.saysCounts(plain) && column == ReadingColumn.OUTPUT;
    String text = counts ? Unit.COUNTS.symbol() : unitText;
    return new Known(column, unit(column, text), text);
  }

  /** A unit behind a space, a comma or a stroke: load kg, load_kg, load/kg, load, kg. */
  private static HeaderCell unitBehind(String header) {
    String spaced = ColumnSynonyms.spaced(header).replace('_', ' ');
    for (int at = 1; at < spaced.length(); at++) {
      if (" ,/".indexOf(spaced.charAt(at)) >= 0) {
        String plain = ColumnSynonyms.plain(spaced.substring(0, at));
        String unitText = spaced.substring(at + 1).strip();
        Set<ReadingColumn> meanings = ColumnSynonyms.meanings(plain);
        if (meanings.stream().anyMatch(c -> unit(c, unitText).isPresent())) {
          return named(meanings, plain, unitText);
        }
      }
    }
    return new Unknown();
  }

  private static HeaderCell atLoad(String header) {
    String rest = header;
    String unitText = "";
    Matcher bracket = BRACKETED.matcher(header);
    if (bracket.matches() && (header.endsWith("]") || outputUnit(bracket.group(2)).isPresent())) {
      rest = bracket.group(1);
      unitText = bracket.group(2);
    }
    Matcher inside = PARENTHESES.matcher(rest);
    while (unitText.isEmpty() && inside.find()) {
      if (outputUnit(inside.group(1)).isPresent()) {
        unitText = inside.group(1);
        rest = rest.substring(0, inside.start()) + " " + rest.substring(inside.end());
      }
    }
    Matcher load = LOAD.matcher(PARENTHESES.matcher(rest).replaceAll(" $1 ").strip());
    Optional<Unit> loadUnit =
        load.matches() ? unit(ReadingColumn.LOAD, load.group("unit")) : Optional.empty();
    if (loadUnit.isEmpty()) {
      return new Unknown();
    }
    String step = load.group("step") == null ? load.group("named") : load.group("step");
    return new AtLoad(
        load.group("number"),
        loadUnit.get(),
        step == null ? OptionalInt.empty() : OptionalInt.of(Integer.parseInt(step)),
        outputUnit(unitText),
        unitText);
  }

  /** The unit of an output: counts, or a bridge signal. */
  static Optional<Unit> outputUnit(String text) {
    return unit(ReadingColumn.OUTPUT, text);
  }

  /** The unit that a text names for a column. */
  static Optional<Unit> unit(ReadingColumn column, String text) {
    return column.unit().stream()
        .map(Unit::dimension)
        .flatMap(
            own ->
                switch (own) {
                  case OUTPUT -> Stream.of(own, Dimension.BRIDGE_SIGNAL);
                  case MASS -> Stream.of(own, Dimension.SHARE_OF_CAPACITY);
                  default -> Stream.of(own);
                })
        .flatMap(dimension -> UnitsOfMeasure.spelled(dimension, text).stream())
        .findFirst();
  }
}
