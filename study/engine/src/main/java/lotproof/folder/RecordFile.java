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
 * @param <T> what a line holds
 */
final class RecordFile<T> {
  static final String ADVICE =
      "nothing is repaired: bring the file back to what it was before it was changed";

  private final String name;
  private final List<String> header;
  private final Function<T, List<String>> fields;
  private final Function<RecordLine, T> maker;

  /**
   * Such a file.
   *
   * @param fields what is written of a thing
   * @param maker makes it again of a line; for a damaged line of stand-ins, which are not used
   */
  RecordFile(
      String name,
      List<String> header,
      Function<T, List<String>> fields,
      Function<RecordLine, T> maker) {
    this.name = name;
    this.header = List.copyOf(header);
    this.fields = fields;
    this.maker = maker;
  }

  String name() {
    return name;
  }

  List<String> header() {
    return header;
  }

  static DataIssue damage(String file, int line, String column, String what) {
    return DataIssue.error(Code.RECORD_DAMAGED, file, line, column, "", what + "; " + ADVICE);
  }

  /** Reads all lines; a file of no bytes holds none. */
  List<T> read(byte[] content, List<DataIssue> issues) {
    List<T> all = new ArrayList<>();
    if (content.length == 0) {
      return all;
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
    List<CsvText.Line> ends = new ArrayList<>(2);
    Map<String, String> texts = new HashMap<>();
    Optional<CsvText.Broken> stop =
        CsvText.forEach(
            text,
            ',',
            line -> {
              boolean first = ends.isEmpty();
              ends.add(Math.min(1, ends.size()), line);
              if (ends.size() > 2) {
                ends.remove(2);
              }
              if (!first) {
                take(new RecordLine(name, header, line, issues, texts)).ifPresent(all::add);
              }
              return !first || line.fields().equals(header);
            });
    if (stop.isPresent()) {
      issues.add(damage(name, stop.get().line(), "", stop.get().why()));
      return List.of();
    }
    if (ends.isEmpty() || !ends.get(0).fields().equals(header)) {
      issues.add(damage(name, 1, "", "the first line must be: " + CsvText.line(header).strip()));
      return List.of();
    }
    if (content[content.length - 1] != '\n') {
      int last = ends.get(ends.size() - 1).number();
      issues.add(damage(name, last, "", "the last line has no end: the file was cut short"));
    }
    return all;
  }

  private Optional<T> take(RecordLine line) {
    if (!line.isWhole()) {
      return Optional.empty();
    }
    try {
      T made = maker.apply(line);
      return line.isSound() ? Optional.of(made) : Optional.empty();
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
      all.writeBytes(CsvText.line(header).getBytes(StandardCharsets.UTF_8));
    }
    for (T each : added) {
      all.writeBytes(CsvText.line(fields.apply(each)).getBytes(StandardCharsets.UTF_8));
    }
    return all.toByteArray();
  }
}
