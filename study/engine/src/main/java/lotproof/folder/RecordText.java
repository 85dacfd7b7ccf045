package lotproof.folder;

import java.nio.ByteBuffer;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
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
    CsvText.TextOutcome decoded = CsvText.decode(ByteBuffer.wrap(content));
    if (decoded instanceof CsvText.TextOutcome.NotUtf8 broken) {
      issues.add(damage(name, broken.line(), "a byte is not UTF-8 text"));
      return List.of();
    }
    String text = ((CsvText.TextOutcome.Decoded) decoded).text();
    CsvText.LinesOutcome split = CsvText.lines(text, ',');
    if (split instanceof CsvText.LinesOutcome.Broken broken) {
      issues.add(damage(name, broken.line(), broken.why()));
      return List.of();
    }
    List<CsvText.Line> lines = ((CsvText.LinesOutcome.Lines) split).lines();
    if (lines.isEmpty() || !lines.get(0).fields().equals(header)) {
      issues.add(damage(name, 1, "the first line must be: " + CsvText.line(header).strip()));
      return List.of();
    }
    if (!text.endsWith("\n")) {
      int last = lines.get(lines.size() - 1).number();
      issues.add(damage(name, last, "the last line has no end: the file was cut short"));
    }
    List<CsvText.Line> whole = new ArrayList<>();
    for (CsvText.Line line : lines.subList(1, lines.size())) {
      whyNotWhole(line, header.size())
          .ifPresentOrElse(
              why -> issues.add(damage(name, line.number(), why)), () -> whole.add(line));
    }
    return whole;
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
