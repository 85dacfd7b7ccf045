package lotproof.gather.tables;

import java.io.StringReader;
import java.nio.ByteBuffer;
import java.nio.charset.Charset;
import java.nio.charset.IllegalCharsetNameException;
import java.nio.charset.StandardCharsets;
import java.nio.charset.UnsupportedCharsetException;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.function.IntFunction;
import java.util.function.Predicate;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import lotproof.folder.ReceivedFile;
import lotproof.folder.text.CsvText;
import lotproof.study.DataIssue;
import lotproof.study.DataIssue.Code;
import lotproof.study.Result;

/** Separated text as rows, once for each separator that it could have. */
final class TextGrids {
  private static final int HEAD = 1 << 16;

  /** A first line by which a spreadsheet tells its separator. */
  private static final Pattern TOLD = Pattern.compile("sep=(.)");

  private static final List<Separator> COLUMN_SEPARATORS =
      List.of(Separator.COMMA, Separator.SEMICOLON, Separator.TAB, Separator.BAR);

  private final String file;
  private final DecodedText text;

  private TextGrids(String file, DecodedText text) {
    this.file = file;
    this.text = text;
  }

  /** Opens a text file. */
  static Result<List<Grid>> of(ReceivedFile file, Mapping mapping) {
    return DecodedText.of(file, mapping.setting(Setting.ENCODING))
        .then(text -> new TextGrids(file.name(), text).open(mapping));
  }

  private Result<List<Grid>> open(Mapping mapping) {
    String head = text.text().substring(0, Math.min(text.text().length(), HEAD));
    if (head.isBlank()) {
      return Result.refused(Code.FILE_EMPTY, file, "the file is empty");
    }
    String first = head.lines().findFirst().orElse("").replace("\"", "");
    Matcher told = TOLD.matcher(first.strip().isEmpty() ? first : first.stripTrailing());
    boolean tells = told.matches() || first.equals("sep=\t");
    Optional<String> wanted = mapping.setting(Setting.SEPARATOR);
    List<Grid> grids = new ArrayList<>();
    for (Separator separator : COLUMN_SEPARATORS) {
      char mark = separator.mark();
      boolean possible =
          wanted.isPresent()
              ? wanted.get().equals(separator.word())
              : tells ? first.charAt(4) == mark : head.indexOf(mark) >= 0;
      if (possible) {
        grids.add(grid(mark, separator.word() + (tells ? ", as the file tells" : ""), tells));
      }
    }
    if (wanted.map(Separator.SPACE.word()::equals).orElse(grids.isEmpty() && !tells)
        && head.strip().indexOf(' ') > 0) {
      grids.add(new TextGrids(file, text.spaced()).grid(' ', Separator.SPACE.word(), false));
    }
    if (grids.isEmpty() && tells) {
      String message = "the separator \"%s\" is none of comma, semicolon, tab and bar";
      return Result.refused(Code.FILE_TYPE, file, 1, message.formatted(first.charAt(4)));
    } else if (grids.isEmpty()) {
      String message =
          "there is neither comma nor semicolon nor tab nor bar nor blank; a table of readings has"
              + " columns, separated by one of them";
      return Result.refused(Code.FILE_TYPE, file, 1, message);
    }
    return Result.of(grids);
  }

  private Grid grid(char separator, String name, boolean tells) {
    List<DataIssue> issues = new ArrayList<>();
    if (text.doubtful()) {
      String message =
          "the text is not UTF-8 and was read as windows-1252; letters in remarks and names can"
              + " be wrong (--encoding names another code page)";
      issues.add(DataIssue.warning(Code.AMBIGUOUS, file, 0, message));
    }
    Grid.Rows rows = wantsMore -> forEach(separator, tells, wantsMore);
    LastLine.doubt(file, text.text(), rows, at -> "column " + letters(at)).ifPresent(issues::add);
    return new Grid(
        "",
        List.of(new Fact("encoding", text.encoding()), new Fact("separator", name)),
        separator,
        rows,
        issues);
  }

  private static String letters(int column) {
    String last = String.valueOf((char) ('A' + column % 26));
    return column < 26 ? last : letters(column / 26 - 1) + last;
  }

  private Optional<DataIssue> forEach(char separator, boolean tells, Predicate<Row> wantsMore) {
    return CsvText.forEach(
            new StringReader(text.text()),
            separator == ' ' ? '\t' : separator,
            line -> take(line, tells, wantsMore))
        .map(broken -> DataIssue.error(Code.FILE_UNREADABLE, file, broken.line(), broken.why()));
  }

  private static boolean take(CsvText.Line line, boolean tells, Predicate<Row> wantsMore) {
    if (line.number() == 1 && tells) {
      return true;
    }
    Row row = new Row(line.number(), line.fields().stream().map(Cell::of).toList());
    return row.isBlank() || wantsMore.test(row);
  }

  /**
   * The characters of a text file.
   *
   * @param text all of it, without a byte order mark
   * @param encoding how its bytes were read, for people
   * @param doubtful whether other code pages would give other letters
   */
  private record DecodedText(String text, String encoding, boolean doubtful) {
    private static final Charset WINDOWS_1252 = Charset.forName("windows-1252");

    /**
     * Bytes of windows-1252 that mean the same in all Latin code pages: no-break space, ° ± ² µ ·.
     */
    private static final String SAME_EVERYWHERE = "\u00A0\u00B0\u00B1\u00B2\u00B5\u00B7";

    /** Bytes that are no character of windows-1252, and the control characters of texts. */
    private static final String UNDEFINED = "\u0081\u008D\u008F\u0090\u009D";

    private static final Pattern ALIGNED = Pattern.compile("\\S(?: {2,}|\t)\\S");
    private static final String WHITE = "\t\n\f\r";
    private static final int LOOK_AHEAD = 4096;

    /** Part of pairs of bytes that have a zero in UTF-16, at least. */
    private static final double LEAST_ZEROS = 0.9;

    /**
     * The same with a tab between columns that blanks separate: two and more of them where most
     * lines have such, so that a name may hold one.
     */
    DecodedText spaced() {
      List<String> lines = text.lines().map(String::strip).toList();
      long aligned = lines.stream().filter(line -> ALIGNED.matcher(line).find()).count();
      boolean wide = 2 * aligned > lines.stream().filter(line -> !line.isEmpty()).count();
      boolean ended = text.endsWith("\n") || text.endsWith("\r");
      String columns = String.join("\n", lines).replaceAll(wide ? "[ \t]{2,}|\t" : "[ \t]+", "\t");
      return new DecodedText(columns + (ended ? "\n" : ""), encoding, doubtful);
    }

    static Result<DecodedText> of(ReceivedFile file, Optional<String> wanted) {
      String head = file.firstBytes(4);
      int mark = head.startsWith("efbbbf") ? 3 : 0;
      if (wanted.isPresent()) {
        return told(file, wanted.get(), mark);
      } else if (mark > 0) {
        return utf8(file, mark, "UTF-8 with a byte order mark");
      } else if (head.startsWith("fffe")) {
        return known(file, StandardCharsets.UTF_16LE, 2, "UTF-16");
      } else if (head.startsWith("feff")) {
        return known(file, StandardCharsets.UTF_16BE, 2, "UTF-16");
      }
      Optional<Charset> wide = utf16WithoutMark(file.content());
      if (wide.isPresent()) {
        return known(file, wide.get(), 0, "UTF-16 without a byte order mark");
      }
      Result<DecodedText> utf8 = utf8(file, 0, "UTF-8");
      return utf8.isRefused() ? latin(file, utf8.issues().get(0).line()) : utf8;
    }

    private static Result<DecodedText> known(
        ReceivedFile file, Charset charset, int skip, String words) {
      return Result.of(new DecodedText(file.text(charset, skip), words, false));
    }

    private static Result<DecodedText> utf8(ReceivedFile file, int skip, String words) {
      OptionalInt broken = CsvText.notUtf8(file.content().position(skip).slice());
      return broken.isEmpty()
          ? known(file, StandardCharsets.UTF_8, skip, words)
          : unknown(file, broken.getAsInt(), "a byte is not " + words);
    }

    private static Result<DecodedText> told(ReceivedFile file, String name, int mark) {
      try {
        Charset charset = Charset.forName(name);
        return charset.equals(StandardCharsets.UTF_8)
            ? utf8(file, mark, "UTF-8")
            : known(file, charset, 0, charset.name() + ", as told");
      } catch (IllegalCharsetNameException | UnsupportedCharsetException e) {
        return unknown(file, 0, "\"" + name + "\" is no code page that is known here");
      }
    }

    /** Latin text in UTF-16 has a zero in every other byte, and no other text has one. */
    private static Optional<Charset> utf16WithoutMark(ByteBuffer bytes) {
      int pairs = Math.min(bytes.remaining(), LOOK_AHEAD) / 2;
      int zerosFirst = 0;
      int zerosSecond = 0;
      for (int i = 0; i < pairs; i++) {
        zerosFirst += bytes.get(2 * i) == 0 ? 1 : 0;
        zerosSecond += bytes.get(2 * i + 1) == 0 ? 1 : 0;
      }
      if (Math.min(zerosFirst, zerosSecond) > 0
          || Math.max(zerosFirst, zerosSecond) <= LEAST_ZEROS * pairs) {
        return Optional.empty();
      }
      return Optional.of(zerosFirst == 0 ? StandardCharsets.UTF_16LE : StandardCharsets.UTF_16BE);
    }

    private static Result<DecodedText> latin(ReceivedFile file, int line) {
      String bytes = file.text(StandardCharsets.ISO_8859_1, 0);
      if (bytes
          .chars()
          .anyMatch(b -> UNDEFINED.indexOf(b) >= 0 || (b < ' ' && WHITE.indexOf(b) < 0))) {
        return unknown(
            file,
            line,
            "the text is neither UTF-8 nor windows-1252; save the file as CSV in UTF-8, or name its"
                + " code page with --encoding");
      }
      boolean same = bytes.chars().allMatch(b -> b < 0x80 || SAME_EVERYWHERE.indexOf(b) >= 0);
      return Result.of(new DecodedText(file.text(WINDOWS_1252, 0), "windows-1252", !same));
    }

    private static Result<DecodedText> unknown(ReceivedFile file, int line, String why) {
      return Result.refused(Code.FILE_UNREADABLE, file.name(), line, why);
    }
  }

  /**
   * Whether the last line of a text file is whole. A copy that stopped half way ends anywhere, and
   * a number that lost its last digits is still a number. A line end behind the line proves it
   * whole; many programs write none, so that without one the last value is held against its column:
   * what is left of a longer value is shorter than the others, or has fewer decimals.
   *
   * <p>The rules are our own, no source. What they do not prove is asked.
   */
  private static final class LastLine {
    /** A sign, digits with marks among them, decimals, and a unit or nothing. */
    private static final Pattern NUMBER = Pattern.compile("[+-]?([0-9]*)([.,]([0-9]+))?([^0-9]*)");

    private static final int FEWEST_TO_COMPARE = 3;

    private LastLine() {}

    /**
     * The question about a last line that may be cut off; nothing when it is proved whole.
     *
     * @param rows rows of the text that are not blank; gone through twice when there is no line end
     * @param names name of a column counted from 0
     */
    static Optional<DataIssue> doubt(
        String file, String text, Grid.Rows rows, IntFunction<String> names) {
      if (text.isEmpty() || "\n\r\"".indexOf(text.charAt(text.length() - 1)) >= 0) {
        return Optional.empty();
      }
      Row[] ends = new Row[2];
      Optional<DataIssue> broken =
          rows.forEach(
              row -> {
                ends[1] = ends[0];
                ends[0] = row;
                return true;
              });
      Row last = ends[0];
      if (broken.isPresent() || last == null || last.cells().isEmpty()) {
        return Optional.empty();
      }
      int column = last.cells().size() - 1;
      String value = last.cell(column).shown();
      List<String> others = new ArrayList<>();
      Optional<Row> unused =
          rows.first(
              row -> {
                if (row.number() != last.number()) {
                  others.add(row.cell(column).shown());
                }
                return false;
              });
      boolean allFields = ends[1] == null || last.cells().size() >= ends[1].cells().size();
      if (allFields && isWhole(value, others)) {
        return Optional.empty();
      }
      String what = value.isEmpty() ? "its last line" : "its last value \"" + value + "\"";
      return Optional.of(
          DataIssue.error(
              Code.LAST_LINE_UNFINISHED,
              file,
              last.number(),
              names.apply(column),
              "",
              "the file does not end with a line end, so %s may be cut short; if nothing is missing,"
                      .formatted(what)
                  + " put a line end behind it"));
    }

    /** What of a value a cut would change. */
    private record Shape(boolean number, int length, int decimals, String ending, double size) {

      private static Shape of(String text) {
        Matcher parts = NUMBER.matcher(text);
        boolean parsed = parts.matches();
        String whole = parsed ? parts.group(1) : "";
        return new Shape(
            text.matches("[+-]?[.,]?[0-9].*"),
            text.startsWith("-") || text.startsWith("+") ? text.length() - 1 : text.length(),
            parsed && parts.group(3) != null ? parts.group(3).length() : 0,
            parsed ? parts.group(4) : "",
            whole.isEmpty() ? 0 : Double.parseDouble(whole));
      }
    }

    /** Whether the others of its column prove that a value is whole. */
    private static boolean isWhole(String value, List<String> column) {
      if (value.isEmpty()) {
        return column.contains("");
      }
      Shape shape = Shape.of(value);
      List<String> texts =
          column.stream()
              .filter(text -> !text.isEmpty() && Shape.of(text).number() == shape.number())
              .toList();
      boolean beginsAnother =
          texts.stream().anyMatch(t -> t.length() > value.length() && t.startsWith(value));
      if (!beginsAnother && Collections.frequency(texts, value) >= 2) {
        return true;
      }
      if (texts.size() < FEWEST_TO_COMPARE) {
        return false;
      }
      List<Shape> others = texts.stream().map(Shape::of).toList();
      boolean hasDecimals = shape.decimals() > 0;
      if (shape.number()
          && !shape.ending().isEmpty()
          && others.stream().allMatch(o -> o.ending().equals(shape.ending()))) {
        return true;
      }
      if (shape.number()
          && hasDecimals
          && others.stream().allMatch(o -> o.decimals() == shape.decimals())
          && others.stream().anyMatch(o -> shape.length() >= o.length())) {
        return true;
      }
      double largest = others.stream().mapToDouble(Shape::size).max().orElse(0);
      // a whole number that lost a digit was ten times as large
      boolean tooLargeOtherwise = !shape.number() || hasDecimals || 10 * shape.size() > 2 * largest;
      return tooLargeOtherwise && others.stream().allMatch(o -> shape.length() >= o.length());
    }
  }
}
