package lotproof.gather.capture;

import static java.util.Objects.requireNonNullElse;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.IntStream;
import lotproof.gather.capture.CaptureFormat.ClockUnit;
import lotproof.gather.capture.CaptureFormat.Coding;
import lotproof.study.DataIssue;
import lotproof.study.DataIssue.Code;
import lotproof.study.Result;

/**
 * Finds out from its first lines how a capture is laid out. Where they leave two answers, the
 * question is put with the name of the option that answers it.
 */
final class LayoutFinder {
  /** Three digits behind the only mark, and a number before it that could be thousands. */
  private static final Pattern EITHER = Pattern.compile("[+-]?[1-9][0-9]{0,2}[.,][0-9]{3}");

  /** A number that has a mark and no groups of three, or could have a mark and has none. */
  private static final Pattern NO_GROUPS =
      Pattern.compile(
          "[+-]?(?:0[.,][0-9]+|[0-9]*[.,][0-9]{0,2}|[0-9]*[.,][0-9]{4,}|[0-9]{4,}(?:[.,][0-9]*)?)");

  private static final char[] SEPARATORS = {';', '\t', ',', ' '};
  private static final int LONGEST_SAMPLE_LINE = 1000;
  private static final double SHARE_WITH_LETTERS = 0.2;
  private static final String NUMBER =
      "0[xX][0-9a-fA-F]{1,12}|[+-]?[0-9]*[.,]?[0-9]+(?:[eE][+-]?[0-9]{1,3})?|[0-9a-fA-F]{4,12}";
  private static final Pattern NUMBER_ALONE = Pattern.compile("\\s*(?:" + NUMBER + ")\\s*");
  private static final Pattern LABELLED =
      Pattern.compile(
          "([^0-9+\\-.]*?[:=>#$]\\s*)?(" + NUMBER + ")(\\s*[A-Za-zµ%][A-Za-z/µ%]{0,7})?\\s*");
  private static final Pattern LETTER = Pattern.compile(".*\\p{L}.*");
  private static final Pattern BRACKETS = Pattern.compile("[\\[(]\\s*([^\\])]*?)\\s*[\\])]");
  private static final Map<String, ClockUnit> CLOCK_UNITS =
      Map.ofEntries(
          Map.entry("s", ClockUnit.SECOND),
          Map.entry("sec", ClockUnit.SECOND),
          Map.entry("seconds", ClockUnit.SECOND),
          Map.entry("ms", ClockUnit.MILLISECOND),
          Map.entry("millis", ClockUnit.MILLISECOND),
          Map.entry("milliseconds", ClockUnit.MILLISECOND),
          Map.entry("us", ClockUnit.MICROSECOND),
          Map.entry("micros", ClockUnit.MICROSECOND),
          Map.entry("microseconds", ClockUnit.MICROSECOND));
  private static final Set<String> CLOCK_WORDS =
      Set.of("time", "t", "timestamp", "clock", "elapsed");
  private static final Set<String> COUNTER_WORDS =
      Set.of("n", "i", "no", "nr", "index", "sample", "seq", "line");
  private static final Set<String> VALUE_WORDS =
      Set.of("counts", "count", "raw", "adc", "code", "value", "reading", "output", "weight");
  private static final Set<String> UNITS =
      Set.of("counts", "g", "kg", "lb", "n", "mv", "v", "mv/v");

  private final CaptureFormat format;
  private final List<HeadLine> lines = new ArrayList<>();
  private boolean terminalTime;

  /** A line of the head: its number, and its text behind the terminal's time. */
  private record HeadLine(int number, boolean timed, String text) {}

  /** The usual shape of lines with numbers. */
  private record Shape(Optional<Character> separator, int columns, String prefix, String suffix) {}

  /** Raised where an option must answer. */
  private static final class Unclear extends Exception {
    private static final long serialVersionUID = 1;
    private final int line;
    private final String why;

    Unclear(int line, String why) {
      super(why);
      this.line = line;
      this.why = why;
    }
  }

  private LayoutFinder(CaptureFormat format) {
    this.format = format;
  }

  /** A layout, and the line of its first sample. */
  record Found(CaptureLayout layout, int firstDataLine) {}

  /**
   * Looks at the head of a capture.
   *
   * @param head its first lines; the last may be cut off when {@code cut}
   */
  static Result<Found> find(String file, CaptureFormat format, String head, boolean cut) {
    try {
      LayoutFinder finder = new LayoutFinder(format);
      finder.split(head, cut);
      return Result.of(finder.layout());
    } catch (Unclear question) {
      return Result.refused(
          DataIssue.error(Code.CAPTURE_UNCLEAR, file, question.line, "", "", question.why));
    }
  }

  private void split(String head, boolean cut) {
    String[] all = head.split("\r\n|\r|\n", -1);
    int count = cut && all.length > 1 ? all.length - 1 : all.length;
    TerminalTime time = new TerminalTime();
    for (int i = 0; i < count; i++) {
      if (!all[i].isBlank() && all[i].charAt(0) != '#') {
        boolean timed = time.find(all[i]);
        lines.add(new HeadLine(i + 1, timed, timed ? all[i].substring(time.end()) : all[i]));
      }
    }
    long timed = lines.stream().filter(HeadLine::timed).count();
    terminalTime = timed > 0 && timed >= 0.7 * (lines.size() - 1);
    if (!terminalTime) {
      lines.replaceAll(l -> new HeadLine(l.number(), false, all[l.number() - 1]));
    }
  }

  private Found layout() throws Unclear {
    Shape shape = shape();
    List<HeadLine> data =
        lines.stream().filter(l -> shapeOf(l).equals(Optional.of(shape))).toList();
    HeadLine first = data.get(0);
    Optional<HeadLine> header = header(shape, first);
    List<String> names = header.map(l -> fields(l.text(), shape, true)).orElse(List.of());
    Optional<Integer> time = timeColumn(shape, names, first);
    int value = valueColumn(shape, names, time, first);
    List<String> tokens =
        data.stream().map(l -> fields(l.text(), shape, false).get(value)).toList();
    boolean hex = hexadecimal(tokens, first.number());
    boolean comma = decimalComma(data, shape, first.number());
    Coding coding = coding(hex, first.number());
    String name = value < names.size() ? names.get(value).strip() : "";
    String unit = unit(name, shape.suffix());
    if (!hex && unit.equals("counts")) {
      checkMark(tokens, shape, first);
    }
    ClockUnit clock =
        time.isPresent() ? clockUnit(names, time.get(), first.number()) : ClockUnit.NONE;
    Optional<Integer> clocked = clock == ClockUnit.NONE ? Optional.empty() : time;
    return new Found(
        new CaptureLayout(
            shape.separator(),
            shape.columns(),
            header.map(HeadLine::number).orElse(0),
            value,
            name,
            clocked,
            clock,
            terminalTime && format.clock() != ClockUnit.NONE,
            new CaptureLayout.Digits(hex, comma, coding),
            shape.prefix(),
            shape.suffix(),
            unit),
        first.number());
  }

  /** 53.341 counts are fifty-three or fifty-three thousand. */
  private void checkMark(List<String> tokens, Shape shape, HeadLine first) throws Unclear {
    boolean point = shape.separator().filter(mark -> mark == ',').isPresent();
    Optional<String> doubtful =
        tokens.stream().filter(t -> EITHER.matcher(t).matches()).findFirst();
    boolean settled =
        point
            || format.grouped().isPresent()
            || tokens.stream().anyMatch(t -> NO_GROUPS.matcher(t).matches());
    if (doubtful.isPresent() && !settled) {
      throw new Unclear(
          first.number(),
          ("\"%s\" can be read in two ways, and no other number settles it; give"
                  + " --capture-mark decimal or --capture-mark thousands")
              .formatted(doubtful.get()));
    }
  }

  /** Samples and clock have one decimal mark. */
  private boolean decimalComma(List<HeadLine> data, Shape shape, int line) throws Unclear {
    if (shape.separator().isPresent() && shape.separator().get() == ',') {
      return false;
    }
    List<String> all = data.stream().flatMap(l -> fields(l.text(), shape, false).stream()).toList();
    boolean comma = all.stream().anyMatch(t -> t.contains(","));
    if (comma && all.stream().anyMatch(t -> t.contains("."))) {
      throw new Unclear(line, "some numbers have a decimal point and some a comma");
    }
    return comma;
  }

  private static boolean numeric(String field, char separator) {
    return (NUMBER_ALONE.matcher(field).matches() && (separator != ',' || !field.contains(",")))
        || new TerminalTime().find(field);
  }

  private List<String> fields(String text, Shape shape, boolean names) {
    if (shape.separator().isEmpty()) {
      Matcher m = LABELLED.matcher(text);
      return List.of(!names && m.matches() ? m.group(2) : text);
    }
    String mark = Pattern.quote(shape.separator().get().toString());
    return Arrays.stream(text.split(mark, -1)).map(LayoutFinder::unquoted).toList();
  }

  private static String unquoted(String field) {
    String f = field.strip();
    return f.length() >= 2 && f.startsWith("\"") && f.endsWith("\"")
        ? f.substring(1, f.length() - 1)
        : f;
  }

  /** The shape that most lines have. */
  private Shape shape() throws Unclear {
    Map<Shape, Long> found = new HashMap<>();
    lines.forEach(line -> shapeOf(line).ifPresent(shape -> found.merge(shape, 1L, Long::sum)));
    Map.Entry<Shape, Long> most =
        found.entrySet().stream()
            .min(
                Map.Entry.<Shape, Long>comparingByValue()
                    .reversed()
                    .thenComparing(entry -> entry.getKey().toString()))
            .orElseThrow(
                () ->
                    new Unclear(
                        lines.isEmpty() ? 0 : lines.get(0).number(),
                        "no line holds a number alone or numbers in columns; this is no capture"));
    Shape shape = most.getKey();
    HeadLine first =
        lines.stream().filter(l -> shapeOf(l).equals(Optional.of(shape))).findFirst().orElseThrow();
    long after = lines.stream().filter(l -> l.number() >= first.number()).count();
    if (most.getValue() * 2 < after) {
      throw new Unclear(
          first.number(),
          ("only %s of %s lines from here on look like samples (%s); this is no"
                  + " capture, or name the separator with --separator")
              .formatted(
                  most.getValue(),
                  after,
                  shape.separator().isPresent() ? shape.columns() + " columns" : "one number"));
    }
    if (shape.separator().isPresent() && shape.separator().get() == ',') {
      checkComma(shape, first);
    }
    return shape;
  }

  /** 12,5 is two numbers or one. */
  private void checkComma(Shape shape, HeadLine first) throws Unclear {
    boolean clear =
        format.separator().isPresent()
            || format.valueColumn().isPresent()
            || header(shape, first).isPresent();
    if (!clear && shape.columns() == 2 && !first.text().contains(".") && !hexMarked(first.text())) {
      throw new Unclear(
          first.number(),
          ("\"%s\" is two columns or one number with a decimal comma; give"
                  + " --separator comma or --separator none")
              .formatted(first.text().strip()));
    }
  }

  private static boolean hexMarked(String text) {
    return text.contains("0x") || text.contains("0X");
  }

  private Optional<Shape> shapeOf(HeadLine line) {
    if (line.text().length() > LONGEST_SAMPLE_LINE) {
      return Optional.empty();
    }
    boolean stated = format.separator().isPresent();
    Matcher m = LABELLED.matcher(line.text());
    if (!stated || format.separator().get() == '\0') {
      boolean oneNumber = m.matches() && !(m.group(2).contains(",") && !stated);
      if (oneNumber) {
        return Optional.of(
            new Shape(
                Optional.empty(),
                1,
                requireNonNullElse(m.group(1), ""),
                requireNonNullElse(m.group(3), "")));
      }
    }
    for (char separator : SEPARATORS) {
      if (stated ? format.separator().get() == separator : line.text().indexOf(separator) >= 0) {
        List<String> fields =
            fields(line.text(), new Shape(Optional.of(separator), 0, "", ""), false);
        if (fields.size() > 1 && fields.stream().allMatch(f -> numeric(f, separator))) {
          return Optional.of(new Shape(Optional.of(separator), fields.size(), "", ""));
        }
      }
    }
    return Optional.empty();
  }

  /** The last line of words before the first data, if it has as many words as there are columns. */
  private Optional<HeadLine> header(Shape shape, HeadLine first) {
    Optional<HeadLine> above =
        lines.stream().filter(l -> l.number() < first.number()).reduce((a, b) -> b);
    return above.filter(
        l -> {
          List<String> words = fields(l.text(), shape, true);
          int expected = shape.columns();
          boolean withTime = terminalTime && !l.timed() && words.size() == expected + 1;
          return (words.size() == expected || withTime)
              && (shape.separator().isPresent() || names(l.text()))
              && words.stream().allMatch(w -> LETTER.matcher(w).matches());
        });
  }

  /** Over one column a header is taken for one only when it names samples or a unit. */
  private static boolean names(String text) {
    return text.length() <= 30
        && (VALUE_WORDS.contains(word(text)) || BRACKETS.matcher(text).find());
  }

  private Optional<Integer> timeColumn(Shape shape, List<String> names, HeadLine first)
      throws Unclear {
    if (format.timeColumn().isPresent()) {
      return Optional.of(named(format.timeColumn().get(), names, shape, "--time-column", first));
    }
    if (terminalTime) {
      return Optional.empty();
    }
    List<Integer> clocks =
        IntStream.range(0, Math.min(names.size(), shape.columns()))
            .filter(i -> isClock(word(names.get(i))))
            .boxed()
            .toList();
    if (clocks.size() > 1) {
      throw new Unclear(
          first.number(), "several columns look like a clock; name one with --time-column");
    }
    return clocks.stream().findFirst();
  }

  /** A word for a clock or for its unit, or both: time, ms, t_ms, time_us. */
  private static boolean isClock(String word) {
    return CLOCK_WORDS.contains(word)
        || CLOCK_UNITS.containsKey(word)
        || word.matches("(t|time|clock|elapsed)[_ -]?(s|ms|us|millis|micros)");
  }

  private int valueColumn(Shape shape, List<String> names, Optional<Integer> time, HeadLine first)
      throws Unclear {
    if (format.valueColumn().isPresent()) {
      return named(format.valueColumn().get(), names, shape, "--value-column", first);
    }
    List<Integer> left =
        IntStream.range(0, shape.columns())
            .filter(i -> !time.equals(Optional.of(i)))
            .boxed()
            .toList();
    if (left.size() == 1 && (shape.columns() == 1 || !names.isEmpty() || time.isPresent())) {
      return left.get(0);
    }
    if (names.size() == shape.columns()) {
      List<Integer> open =
          left.stream().filter(i -> !COUNTER_WORDS.contains(word(names.get(i)))).toList();
      if (open.size() == 1) {
        return open.get(0);
      }
      List<Integer> known =
          open.stream().filter(i -> VALUE_WORDS.contains(word(names.get(i)))).toList();
      if (known.size() == 1) {
        return known.get(0);
      }
    }
    String columns = names.isEmpty() ? shape.columns() + " columns" : String.join(", ", names);
    throw new Unclear(
        first.number(),
        "which column holds the samples is not said ("
            + columns
            + "); give --value-column, and --time-column for a clock");
  }

  private static int named(
      String wanted, List<String> names, Shape shape, String option, HeadLine first)
      throws Unclear {
    for (int i = 0; i < names.size(); i++) {
      if (names.get(i).strip().equals(wanted) || word(names.get(i)).equals(wanted)) {
        return i;
      }
    }
    if (wanted.matches("[0-9]{1,4}")) {
      int position = Integer.parseInt(wanted);
      if (position >= 1 && position <= shape.columns()) {
        return position - 1;
      }
    }
    String has = names.isEmpty() ? "columns 1 to " + shape.columns() : String.join(", ", names);
    throw new Unclear(first.number(), option + " " + wanted + ": there is no such column; " + has);
  }

  /** A header without its unit, in lower case. */
  private static String word(String header) {
    return micro(BRACKETS.matcher(header).replaceAll("")).strip().toLowerCase(Locale.ROOT);
  }

  /** Files are read as single bytes; a micro sign of UTF-8 is two of them. */
  private static String micro(String text) {
    return text.replace("\u00c2\u00b5", "u").replace("\u00ce\u00bc", "u").replace('\u00b5', 'u');
  }

  private ClockUnit clockUnit(List<String> names, int column, int line) throws Unclear {
    if (format.clock() != ClockUnit.AUTO) {
      return format.clock();
    }
    if (column < names.size()) {
      Matcher bracket = BRACKETS.matcher(micro(names.get(column)));
      String word = word(names.get(column));
      String tail = word.replaceFirst("^(t|time|clock|elapsed)[_ -]", "");
      ClockUnit unit =
          bracket.find()
              ? CLOCK_UNITS.get(bracket.group(1).toLowerCase(Locale.ROOT))
              : CLOCK_UNITS.get(tail);
      if (unit != null) {
        return unit;
      }
    }
    throw new Unclear(
        line,
        "the clock in column "
            + (column + 1)
            + " has no unit; give --clock s, ms or us, or --clock none to leave it out");
  }

  private boolean hexadecimal(List<String> tokens, int line) throws Unclear {
    if (format.hexadecimal().isPresent()) {
      return format.hexadecimal().get();
    }
    long marked = tokens.stream().filter(LayoutFinder::hexMarked).count();
    if (marked == tokens.size()) {
      return true;
    }
    boolean plain = tokens.stream().noneMatch(t -> t.matches("[0-9]*[a-fA-F][0-9a-fA-F]*"));
    boolean oneWidth = tokens.stream().mapToInt(String::length).distinct().count() == 1;
    // of true hexadecimal codes six in sixteen have a letter as their last digit alone
    long withLetter = tokens.stream().filter(t -> t.matches(".*[a-dfA-DF].*")).count();
    boolean zeros =
        tokens.get(0).length() > 1
            && oneWidth
            && tokens.stream().anyMatch(t -> t.matches("0[0-9]+"));
    if (marked == 0 && plain && !zeros) {
      return false;
    }
    if (marked == 0
        && !plain
        && oneWidth
        && tokens.size() >= 3
        && tokens.stream().allMatch(t -> t.matches("[0-9a-fA-F]+"))
        && withLetter >= SHARE_WITH_LETTERS * tokens.size()) {
      return true;
    }
    throw new Unclear(
        line,
        "the samples could be hexadecimal or decimal (\""
            + tokens.get(0)
            + "\"); give --radix hex or --radix decimal");
  }

  private Coding coding(boolean hex, int line) throws Unclear {
    if (format.coding() == Coding.AUTO && hex) {
      throw new Unclear(
          line,
          "what hexadecimal codes mean is not said; give --coding twos-complement, offset-binary"
              + " or unsigned, with --bits");
    }
    return format.coding();
  }

  private static String unit(String name, String suffix) {
    Matcher bracket = BRACKETS.matcher(name);
    String unit = bracket.find() ? bracket.group(1) : suffix.strip();
    return UNITS.contains(unit.toLowerCase(Locale.ROOT)) ? unit : "counts";
  }
}
