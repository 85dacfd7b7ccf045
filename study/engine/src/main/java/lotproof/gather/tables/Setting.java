package lotproof.gather.tables;

import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.regex.Pattern;

/** What a person can say about a file that the file itself may leave open. */
public enum Setting {
  ENCODING("encoding", "the code page of a text file, such as windows-1252"),
  SEPARATOR("separator", "what separates columns", "comma", "semicolon", "tab", "bar", "space"),
  DECIMAL("decimal", "the decimal mark", "point", "comma", "mixed"),
  GROUPING(
      "grouping", "the mark between thousands", "none", "point", "comma", "space", "apostrophe"),
  DATES("dates", "the order in dates", "day-first", "month-first"),
  SHEET("sheet", "the sheet of a workbook"),
  HEADER_ROW("header-row", "the row that names the columns of the table, counted from 1"),
  SKIP_ROWS("skip-rows", "rows that are no readings, as sums and notes", RowNumbers.FORM),
  BLANKS("blanks", "what an empty session, time, run, cell or board means", "missing", "as-above"),
  HIDDEN("hidden", "what is done with hidden rows, columns and cells", "take", "leave"),
  STRUCK("struck", "what is done with values that are struck through", "take", "leave"),
  OUTPUT_UNIT("output-unit", "the unit of readings that stand without one", "counts", "mV/V"),
  SERIALS(
      "converted-serials",
      "what is done with numbers that a spreadsheet made of serials",
      "restore",
      "as-written"),
  SIGN("sign", "what is done to the sign of the output", "as-written", "reversed"),
  CAPTURE_SEPARATOR(
      "capture-separator",
      "what separates columns of captures",
      "comma",
      "semicolon",
      "tab",
      "space",
      "none"),
  VALUE_COLUMN(
      "value-column", "the column of a capture with the samples, by its header or number from 1"),
  TIME_COLUMN(
      "time-column", "the column of a capture with the clock, by its header or number from 1"),
  RADIX("radix", "how codes of captures are written", "decimal", "hex"),
  CODING(
      "coding", "what a code of a capture means", "unsigned", "twos-complement", "offset-binary"),
  BITS("bits", "the width of a code in bits, such as 24"),
  CLOCK("clock", "the unit of a capture's clock", "s", "ms", "us", "none"),
  CLOCK_BITS("clock-bits", "the width in bits of a clock that wraps, such as 16 or 32"),
  RATE("rate", "samples per second of a capture without clock"),
  LINES("lines", "the lines of a log that hold the capture", RowNumbers.RANGE),
  CAPTURE_MARK(
      "capture-mark",
      "what a point or comma within a number of a capture is",
      "decimal",
      "thousands");

  private final String key;
  private final String words;

  @SuppressWarnings("ImmutableEnumChecker") // List.of makes it so; its type does not say
  private final List<String> choices;

  private final Optional<Pattern> form;

  Setting(String key, String words, String... choices) {
    this.key = key;
    this.words = words;
    this.choices = List.of(choices);
    this.form = Optional.empty();
  }

  Setting(String key, String words, Pattern form) {
    this.key = key;
    this.words = words + ", such as " + RowNumbers.example(form);
    this.choices = List.of();
    this.form = Optional.of(form);
  }

  /** Its name in a mapping and, after two dashes, on the command line. */
  public String key() {
    return key;
  }

  /** What it says. */
  public String words() {
    return words;
  }

  /** What may be said; empty when it is free. */
  public List<String> choices() {
    return choices;
  }

  /** Why it cannot have this value; nothing when it can. */
  public Optional<String> whyNot(String value) {
    if (form.isPresent()) {
      return form.get().matcher(value).matches()
          ? Optional.empty()
          : Optional.of("\"" + value + "\" names none; write " + RowNumbers.example(form.get()));
    }
    return choices.contains(value) || (choices.isEmpty() && !value.isBlank())
        ? Optional.empty()
        : Optional.of("\"" + value + "\" is none of: " + String.join(", ", choices));
  }

  /** The setting with this name. */
  public static Optional<Setting> ofKey(String key) {
    return Arrays.stream(values()).filter(s -> s.key.equals(key)).findFirst();
  }
}
