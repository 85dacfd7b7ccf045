package lotproof.gather.layout;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collection;
import java.util.Comparator;
import java.util.EnumSet;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import lotproof.folder.text.Nearest;
import lotproof.folder.text.ReadingColumn;
import lotproof.folder.text.UnitsOfMeasure;
import lotproof.folder.text.UnitsOfMeasure.Dimension;
import lotproof.folder.text.UnitsOfMeasure.Unit;

/**
 * How benches name the columns of readings, and what a column may be called instead, so that
 * whoever follows a suggestion gets its numbers converted: with the unit that the file's own header
 * names, or else one suggestion for each unit. A unit is never put in the file's place.
 */
final class ColumnSynonyms {
  private static final Pattern CAMEL = Pattern.compile("(?<=[a-z])(?=[A-Z])");
  private static final Pattern LAST_WORD = Pattern.compile(".*[\\s_,/]([^\\s_,/]+)");
  private static final Pattern JOINTS = Pattern.compile("[\\s_.\\-\\p{Z}]+");

  /**
   * Behind the columns that are meant the names for them, beside the columns' own; of the words in
   * braces each makes a name.
   */
  private static final String NAMES =
      """
      session: {bench|test} session, session {name|no|id}
      time: timestamp, time stamp, date time, datetime, local time, date and time, measured at
      run: {load|test} run, run {name|no|number|id}, runs
      step: step {no|number}, load step, point, point {no|number}
      cell: {load cell|loadcell}, {load |test |load}cell {serial|s/n|sn|no|nr|number|id}
      cell: cell {serial|s/n|sn|no|nr|number|id}, {load |}cell serial {no|number}
      board: {adc|converter|adc board|converter board|amplifier}
      board: {board|adc|converter|adc board|converter board} {serial|s/n|sn|no|nr|number|id}
      board: {board|adc|converter} serial {no|number}
      load: mass, loads, weights, force, {applied|reference|test|nominal|dead} {load|mass|weight|force}
      output: raw, {raw |adc |raw adc |mean |average |}{output|reading|readings|counts|count|code|codes}
      output: signal, bridge signal, output mean, {raw|adc|raw adc} value
      noise: sd, standard deviation, noise sd, noise rms, rms noise, output sd
      cell temperature: {load |}cell {temp|temperature}, {temp|temperature} cell, t cell
      board temperature: {board|adc|chip} {temp|temperature}, {temp|temperature} board, t board
      remark: remarks, comment, comments, note, notes
      cell temperature/board temperature: {ambient |room |air |bench |}{temp|temperature}, t
      cell/board: serial, serial {no|number}, s/n, sn, unit, unit {serial|no}, device, sample, dut, id
      load/output: value, measurement, measured, result, weight
      """;

  private static final Map<String, Set<ReadingColumn>> MEANINGS = meanings();

  private ColumnSynonyms() {}

  private static Map<String, Set<ReadingColumn>> meanings() {
    Map<String, Set<ReadingColumn>> all = new HashMap<>();
    for (ReadingColumn column : ReadingColumn.values()) {
      all.put(column.word(), EnumSet.of(column));
    }
    for (String line : NAMES.lines().toList()) {
      String[] parts = line.split(": ", 2);
      Set<ReadingColumn> columns = EnumSet.noneOf(ReadingColumn.class);
      for (String word : parts[0].split("/", -1)) {
        columns.add(ReadingColumn.ofWord(word).orElseThrow());
      }
      for (String name : parts[1].split(", ", -1)) {
        each(name).forEach(one -> all.put(one, columns));
      }
    }
    return all;
  }

  /** The names that one with words in braces stands for. */
  private static List<String> each(String name) {
    int from = name.indexOf('{');
    int to = name.indexOf('}');
    return from < 0
        ? List.of(name)
        : Arrays.stream(name.substring(from + 1, to).split("\\|", -1))
            .flatMap(word -> each(name.substring(0, from) + word + name.substring(to + 1)).stream())
            .toList();
  }

  /** A name as the dictionary writes it: lower case, one space between words, no colon behind. */
  static String plain(String name) {
    String joined = JOINTS.matcher(spaced(name)).replaceAll(" ").strip();
    String bare = joined.endsWith(":") ? joined.substring(0, joined.length() - 1).strip() : joined;
    return bare.toLowerCase(Locale.ROOT);
  }

  /** A name in one word, such as loadKg, in two. */
  static String spaced(String name) {
    return name.indexOf(' ') < 0 ? CAMEL.matcher(name).replaceAll(" ") : name;
  }

  /** What a plain name can mean; empty when it is not known. */
  static Set<ReadingColumn> meanings(String plain) {
    return MEANINGS.getOrDefault(plain, Set.of());
  }

  /** All names that mean one of these columns and no other, the longest first. */
  static List<String> names(Collection<ReadingColumn> columns) {
    return MEANINGS.entrySet().stream()
        .filter(entry -> entry.getValue().size() == 1 && columns.containsAll(entry.getValue()))
        .map(Map.Entry::getKey)
        .sorted(Comparator.comparingInt(String::length).reversed().thenComparing(name -> name))
        .toList();
  }

  /** Whether the name alone says that the values are counts. */
  static boolean saysCounts(String plain) {
    return plain.matches(".*(?:counts?|codes?)");
  }

  /**
   * The meanings that fit a column.
   *
   * @param header how the file names the column, perhaps with a unit
   */
  static List<String> suggestions(ReadingColumn column, String header) {
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
  static List<String> suggestions(String header) {
    List<ReadingColumn> all = List.of(ReadingColumn.values());
    List<ReadingColumn> fitting =
        all.stream().filter(column -> unitIn(header, column).isPresent()).toList();
    Map<String, ReadingColumn> byHeader = new LinkedHashMap<>();
    (fitting.isEmpty() ? all : fitting).forEach(column -> byHeader.put(column.header(), column));
    Optional<ReadingColumn> nearest = Nearest.to(header, byHeader.keySet()).map(byHeader::get);
    return nearest.map(List::of).orElse(fitting).stream()
        .flatMap(column -> suggestions(column, header).stream())
        .toList();
  }

  /** For messages: the likely meanings as a question, or else all columns. */
  static String hint(String header) {
    List<String> meanings = suggestions(header);
    return meanings.isEmpty()
        ? "the columns are: " + String.join(", ", ReadingColumn.headers())
        : "did you mean \"" + String.join("\" or \"", meanings) + "\"?";
  }

  /** What is wrong with the unit of a column, and the option that would be right. */
  static String unitTrouble(ReadingColumn column, String header, String symbol) {
    Dimension dimension = column.unit().orElseThrow().dimension();
    String why =
        switch (symbol) {
          case "" -> "the column has no unit";
          case "%", "ppm" -> "of what the \"" + symbol + "\" is, is not said";
          default -> "\"" + symbol + "\" is no unit of " + dimension.words();
        };
    List<Unit> units = units(column);
    return "%s; say %s%s"
        .formatted(
            why,
            option(header, column.header()),
            units.size() == 1
                ? ""
                : ", with "
                    + String.join(", ", units.stream().map(Unit::symbol).toList())
                        .replaceFirst(", ([^,]*)$", " or $1")
                    + " in the brackets");
  }

  /** The option that says what a column is. */
  static String option(String header, String meaning) {
    return "--column \"" + header + "=" + meaning + "\"";
  }
}
