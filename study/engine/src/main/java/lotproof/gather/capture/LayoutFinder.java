package lotproof.gather.capture;

import static java.util.Objects.requireNonNullElse;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.function.Predicate;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.IntStream;
import lotproof.folder.text.UnitsOfMeasure;
import lotproof.gather.capture.CaptureFormat.ClockUnit;
import lotproof.gather.capture.CaptureFormat.Coding;
import lotproof.gather.capture.CaptureLayout.TerminalTime;
import lotproof.gather.tables.Setting;
import lotproof.study.DataIssue;
import lotproof.study.DataIssue.Code;
import lotproof.study.Result;

/**
 * Finds out from its first lines how a capture is laid out. Where they leave two answers, the
 * question is put with the name of the option that answers it.
 */
final class LayoutFinder {
  /** A number that has a mark and no groups of three, or could have a mark and has none. */
  private static final Pattern NO_GROUPS =
      Pattern.compile(
          "[+-]?(?:0[.,][0-9]+|[0-9]*[.,][0-9]{0,2}|[0-9]*[.,][0-9]{4,}|[0-9]{4,}(?:[.,][0-9]*)?)");

  private static final char[] SEPARATORS = {';', '\t', ',', ' '};
  private static final int LONGEST_SAMPLE_LINE = 1000;
  private static final int LONGEST_LONE_HEADER = 30;
  private static final double SHARE_TIMED = 0.7;
  private static final double SHARE_WITH_LETTERS = 0.2;
  private static final String NUMBER =
      "0[xX][0-9a-fA-F]{1,12}|[+-]?[0-9]*[.,]?[0-9]+(?:[eE][+-]?[0-9]{1,3})?|[0-9a-fA-F]{4,12}";
  private static final Pattern NUMBER_ALONE = Pattern.compile("\\s*(?:" + NUMBER + ")\\s*");

  /** A number with what it is behind it; letters that could be hexadecimal digits are no unit. */
  private static final Pattern LABELLED =
      Pattern.compile(
          "([^0-9+\\-.]*?[:=>#$]\\s*)?("
              + NUMBER
              + ")((?![a-fA-F]+\\s*$)\\s*[A-Za-zµ%][A-Za-z/µ%]{0,7})?\\s*");

  private static final Pattern LETTER = Pattern.compile(".*\\p{L}.*");
  private static final Pattern BRACKETS = Pattern.compile("[\\[(]\\s*([^\\])]*?)\\s*[\\])]");

  /** A word for a clock and its unit: t_ms, time_us. */
  private static final Pattern CLOCK =
      Pattern.compile("(?:t|time|clock|elapsed)[_ -]?(?:s|ms|us|millis|micros)");

  private static final Set<String> CLOCK_WORDS =
      Set.of("time", "t", "timestamp", "clock", "elapsed");
  private static final Set<String> COUNTER_WORDS =
      Set.of("n", "i", "no", "nr", "index", "sample", "seq", "line");
  private static final Set<String> VALUE_WORDS =
      Set.of("counts", "count", "raw", "adc", "code", "value", "reading", "output", "weight");
  private static final Set<String> UNITS =
      Set.of("counts", "g", "kg", "lb", "n", "mv", "v", "mv/v");

  private final CaptureFormat format;
  private final List<HeadLine> lines;
  private final boolean terminalTime;
  private final Shape shape;
  private final List<HeadLine> data;
  private final HeadLine first;
  private final Optional<HeadLine> header;
  private final List<String> names;

  /** A line of the head: its number, and its text behind the terminal's time. */
  private record HeadLine(int number, boolean timed, String text) {}

  /** The usual shape of lines with numbers. */
  private record Shape(Optional<Character> separator, int columns, String prefix, String suffix) {
    boolean isComma() {
      return separator.equals(Optional.of(','));
    }

    List<String> fields(String text) {
      return separator.isEmpty()
          ? List.of(text)
          : Arrays.stream(text.split(Pattern.quote(separator.get().toString()), -1))
              .map(field -> field.strip().replaceFirst("^\"(.*)\"$", "$1"))
              .toList();
    }

    /** The same of a line of data, where a number may stand between a label and a unit. */
    List<String> numbers(String text) {
      Matcher labelled = LABELLED.matcher(text);
      return separator.isEmpty() && labelled.matches() ? List.of(labelled.group(2)) : fields(text);
    }
  }

  /** Raised where an option must answer. */
  private static final class Unclear extends Exception {
    private static final long serialVersionUID = 1;
    private final int line;

    Unclear(int line, String why) {
      super(why);
      this.line = line;
    }
  }

  /**
   * Looks at the head of a capture.
   *
   * @param head its first lines; the last may be cut off when {@code cut}
   */
  static Result<CaptureLayout> find(String file, CaptureFormat format, String head, boolean cut) {
    try {
      return Result.of(new LayoutFinder(format, head, cut).layout());
    } catch (Unclear question) {
      String why = requireNonNullElse(question.getMessage(), "");
      return Result.refused(Code.CAPTURE_UNCLEAR, file, question.line, why);
    }
  }

  private LayoutFinder(CaptureFormat format, String head, boolean cut) throws Unclear {
    this.format = format;
    String[] all = head.split("\r\n|\r|\n", -1);
    List<HeadLine> plain = new ArrayList<>();
    List<HeadLine> timed = new ArrayList<>();
    for (int i = 0; i < (cut && all.length > 1 ? all.length - 1 : all.length); i++) {
      if (!all[i].isBlank() && all[i].charAt(0) != '#') {
        int number = format.firstLine() + i;
        plain.add(new HeadLine(number, false, all[i]));
        int start = TerminalTime.of(all[i]).map(TerminalTime::end).orElse(0);
        timed.add(new HeadLine(number, start > 0, all[i].substring(start)));
      }
    }
    long withTime = timed.stream().filter(HeadLine::timed).count();
    this.terminalTime = withTime > 0 && withTime >= SHARE_TIMED * (timed.size() - 1);
    this.lines = terminalTime ? timed : plain;
    this.shape = shape();
    this.data = lines.stream().filter(l -> shapeOf(l).equals(Optional.of(shape))).toList();
    this.first = data.get(0);
    this.header = header();
    this.names = header.map(l -> shape.fields(l.text())).orElse(List.of());
  }

  private Unclear unclear(String why, Object... values) {
    return new Unclear(first.number(), DataIssue.say(why, values));
  }

  /** The shape that most lines have. */
  private Shape shape() throws Unclear {
    Map<Shape, Long> found = new HashMap<>();
    lines.forEach(line -> shapeOf(line).ifPresent(each -> found.merge(each, 1L, Long::sum)));
    return found.entrySet().stream()
        .min(
            Map.Entry.<Shape, Long>comparingByValue()
                .reversed()
                .thenComparing(Comparator.comparing(entry -> entry.getKey().toString())))
        .map(Map.Entry::getKey)
        .orElseThrow(
            () ->
                new Unclear(
                    lines.isEmpty() ? 0 : lines.get(0).number(),
                    "no line holds a number alone or numbers in columns; this is no capture"));
  }

  private Optional<Shape> shapeOf(HeadLine line) {
    if (line.text().length() > LONGEST_SAMPLE_LINE) {
      return Optional.empty();
    }
    Optional<Character> stated = format.separator();
    Matcher m = LABELLED.matcher(line.text());
    if (m.matches() && (stated.isPresent() ? stated.get() == '\0' : !m.group(2).contains(","))) {
      String prefix = requireNonNullElse(m.group(1), "");
      String suffix = requireNonNullElse(m.group(3), "");
      return Optional.of(new Shape(Optional.empty(), 1, prefix, suffix));
    }
    for (char separator : SEPARATORS) {
      if (stated.isPresent() ? stated.get() == separator : line.text().indexOf(separator) >= 0) {
        Optional<Character> mark = Optional.of(separator);
        List<String> fields = new Shape(mark, 0, "", "").fields(line.text());
        if (fields.size() > 1 && fields.stream().allMatch(f -> isNumber(f, separator))) {
          return Optional.of(new Shape(mark, fields.size(), "", ""));
        }
      }
    }
    return Optional.empty();
  }

  private static boolean isNumber(String field, char separator) {
    return (NUMBER_ALONE.matcher(field).matches() && (separator != ',' || !field.contains(",")))
        || TerminalTime.of(field).isPresent();
  }

  /** The last line of words before the first data, if it has as many words as there are columns. */
  private Optional<HeadLine> header() {
    return lines.stream()
        .filter(l -> l.number() < first.number())
        .reduce((a, b) -> b)
        .filter(
            l -> {
              List<String> words = shape.fields(l.text());
              boolean withTime = terminalTime && !l.timed();
              return (words.size() == shape.columns()
                      || (withTime && words.size() == shape.columns() + 1))
                  && (shape.separator().isPresent() || isLoneHeader(l.text()))
                  && words.stream().allMatch(w -> LETTER.matcher(w).matches());
            });
  }

  /** Over one column a header is taken for one only when it names samples or a unit. */
  private static boolean isLoneHeader(String text) {
    return text.length() <= LONGEST_LONE_HEADER
        && (VALUE_WORDS.contains(word(text)) || BRACKETS.matcher(text).find());
  }

  private CaptureLayout layout() throws Unclear {
    checkShape();
    Optional<Integer> time = timeColumn();
    int value = valueColumn(time);
    List<String> tokens = data.stream().map(l -> shape.numbers(l.text()).get(value)).toList();
    boolean hex = hexadecimal(tokens);
    boolean comma = decimalComma();
    if (format.coding() == Coding.AUTO && hex) {
      throw unclear(
          "what hexadecimal codes mean is not said; give --coding twos-complement, offset-binary"
              + " or unsigned, with --bits");
    }
    String name = value < names.size() ? names.get(value).strip() : "";
    String unit = unit(name);
    if (!hex && unit.equals("counts")) {
      checkMark(tokens);
    }
    ClockUnit clock = time.isPresent() ? clockUnit(time.get()) : ClockUnit.NONE;
    return new CaptureLayout(
        shape.separator(),
        shape.columns(),
        header.map(HeadLine::number).orElse(0),
        first.number(),
        value,
        name,
        time.filter(at -> clock != ClockUnit.NONE),
        clock,
        terminalTime && format.clock() != ClockUnit.NONE,
        new CaptureLayout.Digits(
            hex,
            comma,
            format.coding(),
            format.bits().orElse(0),
            !hex && format.isTold(Setting.RADIX),
            shape.prefix(),
            shape.suffix()),
        unit);
  }

  private void checkShape() throws Unclear {
    long after = lines.stream().filter(l -> l.number() >= first.number()).count();
    if (data.size() * 2L < after) {
      throw unclear(
          "only %s of %s lines from here on look like samples (%s); this is no capture, or name"
              + " the separator with --separator",
          data.size(),
          after,
          shape.separator().isPresent() ? shape.columns() + " columns" : "one number");
    }
    boolean stated = format.separator().isPresent() || format.isTold(Setting.VALUE_COLUMN);
    boolean marked = first.text().contains(".") || isHexMarked(first.text());
    if (shape.isComma() && shape.columns() == 2 && !stated && header.isEmpty() && !marked) {
      throw unclear(
          "\"%s\" is two columns or one number with a decimal comma; give --separator"
              + " comma or --separator none",
          first.text().strip());
    }
  }

  /** 53.341 counts are fifty-three or fifty-three thousand. */
  private void checkMark(List<String> tokens) throws Unclear {
    Optional<String> doubtful = tokens.stream().filter(UnitsOfMeasure::canBeThousands).findFirst();
    boolean settled =
        shape.isComma()
            || format.isTold(Setting.CAPTURE_MARK)
            || tokens.stream().anyMatch(t -> NO_GROUPS.matcher(t).matches());
    if (doubtful.isPresent() && !settled) {
      throw unclear(
          "\"%s\" can be read in two ways, and no other number settles it; give --capture-mark"
              + " decimal or --capture-mark thousands",
          doubtful.get());
    }
  }

  /** Samples and clock have one decimal mark. */
  private boolean decimalComma() throws Unclear {
    List<String> all = data.stream().flatMap(l -> shape.numbers(l.text()).stream()).toList();
    boolean comma = !shape.isComma() && all.stream().anyMatch(t -> t.contains(","));
    if (comma && all.stream().anyMatch(t -> t.contains("."))) {
      throw unclear("some numbers have a decimal point and some a comma");
    }
    return comma;
  }

  private static boolean isHexMarked(String text) {
    return text.contains("0x") || text.contains("0X");
  }

  private boolean hexadecimal(List<String> tokens) throws Unclear {
    Optional<String> told = format.told(Setting.RADIX);
    if (told.isPresent()) {
      return told.get().equals("hex");
    }
    long marked = tokens.stream().filter(LayoutFinder::isHexMarked).count();
    if (marked == tokens.size()) {
      return true;
    }
    boolean plain = tokens.stream().noneMatch(t -> t.matches("[0-9]*[a-fA-F][0-9a-fA-F]*"));
    boolean oneWidth = tokens.stream().mapToInt(String::length).distinct().count() == 1;
    // of true hexadecimal codes six in sixteen have a letter as their last digit alone
    long withLetter = tokens.stream().filter(t -> t.matches(".*[a-dfA-DF].*")).count();
    boolean zeros = oneWidth && tokens.stream().anyMatch(t -> t.matches("0[0-9]+"));
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
    throw unclear(
        "the samples could be hexadecimal or decimal (\"%s\"); give --radix hex or --radix decimal",
        tokens.get(0));
  }

  private Optional<Integer> timeColumn() throws Unclear {
    if (format.isTold(Setting.TIME_COLUMN)) {
      return Optional.of(named(Setting.TIME_COLUMN));
    }
    if (terminalTime) {
      return Optional.empty();
    }
    List<Integer> clocks = columns(at -> at < names.size() && isClock(word(names.get(at))));
    if (clocks.size() > 1) {
      throw unclear("several columns look like a clock; name one with --time-column");
    }
    return clocks.stream().findFirst();
  }

  private List<Integer> columns(Predicate<Integer> which) {
    return IntStream.range(0, shape.columns()).boxed().filter(which).toList();
  }

  private static boolean isClock(String word) {
    return CLOCK_WORDS.contains(word)
        || ClockUnit.spelled(word).isPresent()
        || CLOCK.matcher(word).matches();
  }

  private int valueColumn(Optional<Integer> time) throws Unclear {
    if (format.isTold(Setting.VALUE_COLUMN)) {
      return named(Setting.VALUE_COLUMN);
    }
    List<Integer> left = columns(at -> !time.equals(Optional.of(at)));
    if (left.size() == 1 && (shape.columns() == 1 || !names.isEmpty() || time.isPresent())) {
      return left.get(0);
    }
    if (names.size() == shape.columns()) {
      List<Integer> open =
          left.stream().filter(at -> !COUNTER_WORDS.contains(word(names.get(at)))).toList();
      List<Integer> known =
          open.stream().filter(at -> VALUE_WORDS.contains(word(names.get(at)))).toList();
      if (open.size() == 1 || known.size() == 1) {
        return open.size() == 1 ? open.get(0) : known.get(0);
      }
    }
    throw unclear(
        "which column holds the samples is not said (%s); give --value-column, and --time-column"
            + " for a clock",
        names.isEmpty() ? shape.columns() + " columns" : String.join(", ", names));
  }

  private int named(Setting column) throws Unclear {
    String wanted = format.told(column).orElseThrow();
    for (int i = 0; i < names.size(); i++) {
      if (names.get(i).strip().equals(wanted) || word(names.get(i)).equals(wanted)) {
        return i;
      }
    }
    int position = wanted.matches("[0-9]{1,4}") ? Integer.parseInt(wanted) : 0;
    if (position >= 1 && position <= shape.columns()) {
      return position - 1;
    }
    throw unclear(
        "--%s %s: there is no such column; %s",
        column.key(),
        wanted,
        names.isEmpty() ? "columns 1 to " + shape.columns() : String.join(", ", names));
  }

  private ClockUnit clockUnit(int column) throws Unclear {
    if (format.clock() != ClockUnit.AUTO) {
      return format.clock();
    }
    String name = column < names.size() ? names.get(column) : "";
    Matcher bracket = BRACKETS.matcher(micro(name));
    String unit =
        bracket.find()
            ? bracket.group(1).toLowerCase(Locale.ROOT)
            : word(name).replaceFirst("^(t|time|clock|elapsed)[_ -]", "");
    return ClockUnit.spelled(unit)
        .orElseThrow(
            () ->
                unclear(
                    "the clock in column %s has no unit; give --clock s, ms or us, or --clock none"
                        + " to leave it out",
                    column + 1));
  }

  private String unit(String name) {
    Matcher bracket = BRACKETS.matcher(name);
    String unit = bracket.find() ? bracket.group(1) : shape.suffix().strip();
    return UNITS.contains(unit.toLowerCase(Locale.ROOT)) ? unit : "counts";
  }

  /** A header without its unit, in lower case. */
  private static String word(String header) {
    return micro(BRACKETS.matcher(header).replaceAll("")).strip().toLowerCase(Locale.ROOT);
  }

  /** Files are read as single bytes; a micro sign of UTF-8 is two of them. */
  private static String micro(String text) {
    return text.replaceAll("\u00c2?\u00b5|\u00ce\u00bc", "u");
  }
}
