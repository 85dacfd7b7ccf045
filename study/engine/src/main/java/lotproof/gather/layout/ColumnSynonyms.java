package lotproof.gather.layout;

import java.util.EnumSet;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.regex.Pattern;
import lotproof.folder.text.ReadingColumn;

/** How benches name the columns of readings. */
final class ColumnSynonyms {
  private static final Pattern CAMEL = Pattern.compile("(?<=[a-z])(?=[A-Z])");
  private static final Pattern JOINTS = Pattern.compile("[\\s_.\\-\\p{Z}]+");
  private static final Map<String, Set<ReadingColumn>> MEANINGS = meanings();

  private ColumnSynonyms() {}

  private static Map<String, Set<ReadingColumn>> meanings() {
    Map<String, Set<ReadingColumn>> all = new HashMap<>();
    for (ReadingColumn column : ReadingColumn.values()) {
      all.put(column.word(), EnumSet.of(column));
    }
    add(all, ReadingColumn.SESSION, "bench session", "session name", "session no");
    add(all, ReadingColumn.TIME, "timestamp", "time stamp", "date time", "datetime", "local time");
    add(all, ReadingColumn.TIME, "date and time", "measured at");
    add(all, ReadingColumn.RUN, "load run", "run name", "run no", "run number", "run id", "runs");
    add(all, ReadingColumn.STEP, "step no", "step number", "load step", "point", "point no");
    add(all, ReadingColumn.CELL, "load cell", "loadcell", "cell serial", "cell serial no");
    add(all, ReadingColumn.CELL, "cell serial number", "cell s/n", "cell sn", "cell no");
    add(all, ReadingColumn.CELL, "cell id", "load cell serial", "load cell s/n", "load cell no");
    add(all, ReadingColumn.BOARD, "board serial", "board serial no", "board serial number");
    add(all, ReadingColumn.BOARD, "board s/n", "board sn", "board no", "board id", "adc board");
    add(all, ReadingColumn.BOARD, "adc", "adc serial", "converter", "converter board");
    add(all, ReadingColumn.BOARD, "converter serial", "converter no");
    add(all, ReadingColumn.LOAD, "mass", "applied load", "applied mass", "reference mass");
    add(all, ReadingColumn.LOAD, "test load", "test mass", "loads", "nominal load");
    add(all, ReadingColumn.OUTPUT, "reading", "readings", "counts", "raw counts", "adc counts");
    add(all, ReadingColumn.OUTPUT, "raw", "adc output", "adc code", "code", "output mean");
    add(all, ReadingColumn.OUTPUT, "mean output", "mean reading", "signal", "bridge signal");
    add(all, ReadingColumn.NOISE, "sd", "standard deviation", "noise sd", "noise rms", "rms noise");
    add(all, ReadingColumn.NOISE, "output sd");
    add(all, ReadingColumn.CELL_TEMPERATURE, "cell temp", "temperature cell", "temp cell");
    add(all, ReadingColumn.CELL_TEMPERATURE, "t cell", "load cell temperature");
    add(all, ReadingColumn.BOARD_TEMPERATURE, "board temp", "temperature board", "temp board");
    add(all, ReadingColumn.BOARD_TEMPERATURE, "t board", "adc temperature", "chip temperature");
    add(all, ReadingColumn.REMARK, "remarks", "comment", "comments", "note", "notes");
    for (String either : List.of("temperature", "temp", "ambient temperature", "t")) {
      all.put(either, EnumSet.of(ReadingColumn.CELL_TEMPERATURE, ReadingColumn.BOARD_TEMPERATURE));
    }
    for (String either : List.of("serial", "serial no", "serial number", "s/n", "sn", "unit")) {
      all.put(either, EnumSet.of(ReadingColumn.CELL, ReadingColumn.BOARD));
    }
    for (String either : List.of("unit serial", "unit no", "device", "sample", "dut", "id")) {
      all.put(either, EnumSet.of(ReadingColumn.CELL, ReadingColumn.BOARD));
    }
    for (String either : List.of("value", "measurement", "measured", "result", "weight")) {
      all.put(either, EnumSet.of(ReadingColumn.LOAD, ReadingColumn.OUTPUT));
    }
    return Map.copyOf(all);
  }

  private static void add(
      Map<String, Set<ReadingColumn>> all, ReadingColumn column, String... words) {
    for (String word : words) {
      all.put(word, EnumSet.of(column));
    }
  }

  /** A name as the dictionary writes it: lower case, one space between words, no colon behind. */
  static String plain(String name) {
    String spaced = name.indexOf(' ') < 0 ? CAMEL.matcher(name).replaceAll(" ") : name;
    String joined = JOINTS.matcher(spaced).replaceAll(" ").strip();
    String bare = joined.endsWith(":") ? joined.substring(0, joined.length() - 1).strip() : joined;
    return bare.toLowerCase(Locale.ROOT);
  }

  /** What a plain name can mean; empty when it is not known. */
  static Set<ReadingColumn> meanings(String plain) {
    return MEANINGS.getOrDefault(plain, Set.of());
  }

  /** Whether the name alone says that the values are counts. */
  static boolean saysCounts(String plain) {
    return plain.endsWith("counts") || plain.equals("adc code") || plain.equals("code");
  }
}
