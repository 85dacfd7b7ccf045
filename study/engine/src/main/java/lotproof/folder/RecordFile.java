package lotproof.folder;

import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.InputStreamReader;
import java.io.Reader;
import java.nio.ByteBuffer;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.function.Function;
import lotproof.folder.text.CsvText;
import lotproof.study.DataIssue;
import lotproof.study.DataIssue.Code;

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
}
