package lotproof.folder;

import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.InputStreamReader;
import java.io.Reader;
import java.nio.ByteBuffer;
import java.nio.charset.StandardCharsets;
import java.time.DateTimeException;
import java.time.LocalDateTime;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.function.Function;
import java.util.regex.Pattern;
import lotproof.folder.text.CsvText;
import lotproof.folder.text.UnitsOfMeasure;
import lotproof.study.DataIssue;
import lotproof.study.DataIssue.Code;
import lotproof.study.Keyed;

/**
 * A CSV file of the study folder: a fixed header, whole lines, nothing else. It is written by this
 * program alone and only ever added to, so anything that it would not have written is damage.
 *
 * @param columns what is written of a thing
 * @param maker makes it again of a line; for a damaged line of stand-ins, which are not used
 * @param <T> what a line holds
 */
record RecordFile<T>(String name, List<Column<T>> columns, Function<RecordLine, T> maker) {
  static final String ADVICE =
      "nothing is repaired: bring the file back to what it was before it was changed";

  /** A column: its header, and what it holds of a thing. */
  record Column<T>(String header, Function<T, String> text) {}

  private List<String> header() {
    return columns.stream().map(Column::header).toList();
  }

  static DataIssue damage(String file, int line, String column, String what) {
    return DataIssue.error(Code.RECORD_DAMAGED, file, line, column, "", what + "; " + ADVICE);
  }

  /** Reads all lines; a file of no bytes holds none. */
  List<T> read(byte[] content, List<DataIssue> issues) {
    if (content.length == 0) {
      return List.of();
    }
    OptionalInt broken = CsvText.notUtf8(ByteBuffer.wrap(content));
    if (broken.isPresent()) {
      issues.add(damage(name, broken.getAsInt(), "", "a byte is not UTF-8 text"));
      return List.of();
    }
    int mark = CsvText.markLength(content);
    Reader text =
        new InputStreamReader(
            new ByteArrayInputStream(content, mark, content.length - mark), StandardCharsets.UTF_8);
    List<T> all = new ArrayList<>();
    List<String> header = header();
    Map<String, String> texts = new HashMap<>();
    int[] last = {0};
    boolean[] headed = {false};
    Optional<CsvText.Broken> stop =
        CsvText.forEach(
            text,
            ',',
            line -> {
              last[0] = line.number();
              if (headed[0]) {
                take(new RecordLine(name, header, line, issues, texts)).ifPresent(all::add);
                return true;
              }
              headed[0] = line.fields().equals(header);
              return headed[0];
            });
    if (stop.isPresent()) {
      issues.add(damage(name, stop.get().line(), "", stop.get().why()));
      return List.of();
    }
    if (!headed[0]) {
      issues.add(damage(name, 1, "", "the first line must be: " + CsvText.line(header).strip()));
      return List.of();
    }
    if (content[content.length - 1] != '\n') {
      String cut = "the last line has no end: the file was cut short";
      issues.add(damage(name, last[0], "", cut));
    }
    return all;
  }

  private Optional<T> take(RecordLine line) {
    try {
      Optional<T> made = line.isWhole() ? Optional.of(maker.apply(line)) : Optional.empty();
      return made.filter(it -> line.isSound());
    } catch (IllegalArgumentException e) {
      if (line.isSound()) {
        line.damaged("", String.valueOf(e.getMessage()));
      }
      return Optional.empty();
    }
  }

  /** The file with lines added; what it held is kept byte by byte. */
  byte[] append(byte[] content, List<T> added) {
    ByteArrayOutputStream all = new ByteArrayOutputStream(content.length + 200 * added.size());
    all.writeBytes(content);
    if (content.length == 0) {
      all.writeBytes(CsvText.line(header()).getBytes(StandardCharsets.UTF_8));
    }
    for (T each : added) {
      List<String> fields = columns.stream().map(column -> column.text.apply(each)).toList();
      all.writeBytes(CsvText.line(fields).getBytes(StandardCharsets.UTF_8));
    }
    return all.toByteArray();
  }

  /**
   * One line of a record file. A field that the file cannot hold is reported, and a stand-in is
   * given for it.
   */
  static final class RecordLine {
    private static final Pattern WHOLE = Pattern.compile("0|[1-9][0-9]{0,8}");

    private final String file;
    private final List<String> header;
    private final CsvText.Line csv;
    private final List<DataIssue> issues;
    private final Map<String, String> texts;
    private boolean sound = true;

    /**
     * A line.
     *
     * @param texts texts of the file so far; those that many lines share are held once
     */
    RecordLine(
        String file,
        List<String> header,
        CsvText.Line csv,
        List<DataIssue> issues,
        Map<String, String> texts) {
      this.file = file;
      this.header = header;
      this.csv = csv;
      this.issues = issues;
      this.texts = texts;
    }

    int number() {
      return csv.number();
    }

    boolean isSound() {
      return sound;
    }

    /** Whether it has the right number of fields; what is wrong is reported. */
    boolean isWhole() {
      int fields = csv.fields().size();
      if (csv.isEmpty()) {
        damaged("", "the line is empty");
      } else if (fields != header.size()) {
        damaged("", "the line has %s fields instead of %s".formatted(fields, header.size()));
      }
      return sound;
    }

    void damaged(String column, String what) {
      report(Code.RECORD_DAMAGED, column, what + "; " + RecordFile.ADVICE);
    }

    void report(Code code, String column, String message) {
      sound = false;
      issues.add(DataIssue.error(code, file, number(), column, "", message));
    }

    private String raw(String column) {
      return csv.fields().get(header.indexOf(column));
    }

    /** The text of a column, which may be empty. */
    String text(String column) {
      return texts.computeIfAbsent(raw(column), same -> same);
    }

    /** The text of a column that every line needs. */
    String needed(String column) {
      if (raw(column).isBlank()) {
        damaged(column, "the value is missing");
      }
      return text(column);
    }

    Optional<String> optional(String column) {
      return raw(column).isBlank() ? Optional.empty() : Optional.of(raw(column));
    }

    /** A whole number from the least one that makes sense. */
    int count(String column, int least) {
      String text = raw(column);
      if (WHOLE.matcher(text).matches() && Integer.parseInt(text) >= least) {
        return Integer.parseInt(text);
      }
      damaged(column, "\"%s\" is not a whole number from %s".formatted(text, least));
      return 1;
    }

    /** A number that every line needs. */
    double number(String column) {
      if (raw(column).isEmpty()) {
        damaged(column, "the value is missing");
      }
      return optionalNumber(column).orElse(1);
    }

    OptionalDouble optionalNumber(String column) {
      OptionalDouble number = UnitsOfMeasure.nearest(raw(column));
      if (number.isEmpty() && !raw(column).isEmpty()) {
        damaged(column, "\"%s\" is not a number".formatted(raw(column)));
      }
      return number;
    }

    Optional<LocalDateTime> time(String column) {
      String text = raw(column);
      try {
        return text.isEmpty() ? Optional.empty() : Optional.of(LocalDateTime.parse(text));
      } catch (DateTimeException e) {
        damaged(column, "\"%s\" is not a time such as 2026-03-04T09:30".formatted(text));
        return Optional.empty();
      }
    }

    /** The hash of a file. */
    String hash(String column) {
      if (!ReceivedFile.isHash(raw(column))) {
        damaged(column, "\"%s\" is not a SHA-256 hash".formatted(raw(column)));
      }
      return text(column);
    }

    /** The constant that is named; the first of them where none is. */
    <K extends Keyed> K constant(String column, K[] constants, Code code) {
      Optional<K> named = Keyed.of(constants, raw(column));
      if (named.isEmpty()) {
        String known = String.join(", ", Arrays.stream(constants).map(Keyed::key).toList());
        report(code, column, "\"%s\" is none of: %s".formatted(raw(column), known));
      }
      return named.orElse(constants[0]);
    }
  }
}
