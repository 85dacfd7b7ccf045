package lotproof.folder;

import java.io.ByteArrayInputStream;
import java.io.InputStreamReader;
import java.io.Reader;
import java.nio.ByteBuffer;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.function.Consumer;
import lotproof.folder.text.CsvText;
import lotproof.study.DataIssue;
import lotproof.study.DataIssue.Code;

/** Strict reading of the folder's own CSV files: a fixed header, whole lines, nothing else. */
final class RecordText {
  static final String ADVICE =
      "nothing is repaired: bring the file back to what it was before it was changed";

  private RecordText() {}

  /** Lines below the header that have the right number of fields; all else becomes issues. */
  static List<CsvText.Line> lines(
      String name, byte[] content, List<String> header, List<DataIssue> issues) {
    List<CsvText.Line> whole = new ArrayList<>();
    boolean readable = forEach(name, content, header, issues, whole::add);
    return readable ? whole : List.of();
  }

  /**
   * Hands over, one at a time, the lines below the header that have the right number of fields; all
   * else becomes issues. Says whether all of the text could be read.
   */
  static boolean forEach(
      String name,
      byte[] content,
      List<String> header,
      List<DataIssue> issues,
      Consumer<CsvText.Line> taker) {
    OptionalInt broken = CsvText.notUtf8(ByteBuffer.wrap(content));
    if (broken.isPresent()) {
      issues.add(damage(name, broken.getAsInt(), "a byte is not UTF-8 text"));
      return false;
    }
    Lines lines = new Lines(name, header, issues, taker);
    Optional<CsvText.LinesOutcome.Broken> stop = CsvText.forEach(reader(content), ',', lines::take);
    if (stop.isPresent()) {
      issues.add(damage(name, stop.get().line(), stop.get().why()));
      return false;
    }
    if (lines.headerIsWrong || lines.last == 0) {
      issues.add(damage(name, 1, "the first line must be: " + CsvText.line(header).strip()));
      return false;
    }
    if (content[content.length - 1] != '\n') {
      issues.add(damage(name, lines.last, "the last line has no end: the file was cut short"));
    }
    return true;
  }

  private static Reader reader(byte[] content) {
    boolean marked =
        content.length >= 3
            && content[0] == (byte) 0xEF
            && content[1] == (byte) 0xBB
            && content[2] == (byte) 0xBF;
    int from = marked ? 3 : 0;
    return new InputStreamReader(
        new ByteArrayInputStream(content, from, content.length - from), StandardCharsets.UTF_8);
  }

  private static final class Lines {
    private final String name;
    private final List<String> header;
    private final List<DataIssue> issues;
    private final Consumer<CsvText.Line> taker;
    private boolean headerIsWrong;
    private int last;

    private Lines(
        String name, List<String> header, List<DataIssue> issues, Consumer<CsvText.Line> taker) {
      this.name = name;
      this.header = header;
      this.issues = issues;
      this.taker = taker;
    }

    private boolean take(CsvText.Line line) {
      boolean first = last == 0;
      last = line.number();
      if (first) {
        headerIsWrong = !line.fields().equals(header);
        return true;
      } else if (!headerIsWrong) {
        whyNotWhole(line, header.size())
            .ifPresentOrElse(
                why -> issues.add(damage(name, line.number(), why)), () -> taker.accept(line));
      }
      return true;
    }
  }

  private static Optional<String> whyNotWhole(CsvText.Line line, int fields) {
    if (line.isEmpty()) {
      return Optional.of("the line is empty");
    }
    return line.fields().size() == fields
        ? Optional.empty()
        : Optional.of("the line has " + line.fields().size() + " fields instead of " + fields);
  }

  private static DataIssue damage(String name, int line, String what) {
    return DataIssue.error(Code.RECORD_DAMAGED, name, line, "", "", what + "; " + ADVICE);
  }
}
