package lotproof.gather.tables;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import lotproof.folder.ReceivedFile;
import lotproof.folder.text.CsvText;
import lotproof.gather.tables.Table.NumberStyle;
import lotproof.study.DataIssue;
import lotproof.study.DataIssue.Code;

/**
 * Reads separated text as a table: UTF-8, with or without a byte order mark, one header line. The
 * separator is the only one of comma, semicolon and tab in the header line; where there are two, it
 * is not guessed.
 */
final class TextTables implements TableReader {
  private static final Map<Character, String> SEPARATORS = separators();

  private static Map<Character, String> separators() {
    Map<Character, String> names = new LinkedHashMap<>();
    names.put(',', "comma");
    names.put(';', "semicolon");
    names.put('\t', "tab");
    return names;
  }

  @Override
  public boolean accepts(ReceivedFile file) {
    return FileKind.notText(file).isEmpty();
  }

  @Override
  public GridOutcome open(ReceivedFile file, Mapping mapping) {
    return JsonLines.accepts(file) ? JsonLines.of(file) : TextGrids.of(file, mapping);
  }

  @Override
  public TableOutcome read(ReceivedFile file) {
    String name = file.name();
    CsvText.TextOutcome decoded = CsvText.decode(file.content());
    if (decoded instanceof CsvText.TextOutcome.NotUtf8 broken) {
      return refused(
          Code.FILE_UNREADABLE,
          name,
          broken.line(),
          "a byte is not UTF-8 text; save the file as CSV in UTF-8 (° is often the cause)");
    }
    String text = ((CsvText.TextOutcome.Decoded) decoded).text();
    if (text.isBlank()) {
      return refused(Code.FILE_EMPTY, name, 0, "the file is empty");
    }
    List<Character> found = separatorsIn(firstLine(text));
    if (found.size() != 1) {
      return refused(Code.FILE_TYPE, name, 1, separatorProblem(found));
    }
    char separator = found.get(0);
    CsvText.LinesOutcome split = CsvText.lines(text, separator);
    if (split instanceof CsvText.LinesOutcome.Broken broken) {
      return refused(Code.FILE_UNREADABLE, name, broken.line(), broken.why());
    }
    return table(name, ((CsvText.LinesOutcome.Lines) split).lines(), separator, text);
  }

  private static TableOutcome table(
      String name, List<CsvText.Line> lines, char separator, String text) {
    List<DataIssue> issues = new ArrayList<>();
    List<Row> rows = new ArrayList<>();
    for (CsvText.Line line : lines) {
      Row row = new Row(line.number(), line.fields().stream().map(CellText::of).toList());
      if (!row.isBlank()) {
        rows.add(row);
      }
    }
    Row header = rows.remove(0);
    for (Row row : rows) {
      int fields = row.cells().size();
      if (fields < header.cells().size()) {
        String message =
            "the line has " + fields + " of " + header.cells().size() + " fields; is it cut short?";
        issues.add(DataIssue.error(Code.VALUE_MISSING, name, row.number(), "", "", message));
      }
    }
    List<Row> all = List.copyOf(rows);
    LastLine.doubt(
            name,
            text,
            wantsMore -> {
              all.stream().takeWhile(wantsMore).forEach(row -> {});
              return Optional.empty();
            },
            at -> header.cell(at) instanceof Cell.Text named ? named.value() : "")
        .ifPresent(issues::add);
    NumberStyle style = separator == ';' ? NumberStyle.POINT_OR_COMMA : NumberStyle.DECIMAL_POINT;
    return new TableOutcome.Found(new Table(header, rows, style), issues);
  }

  private static String firstLine(String text) {
    return text.lines().filter(line -> !line.isBlank()).findFirst().orElse("");
  }

  /** The separators that stand in a line outside quotation marks. */
  private static List<Character> separatorsIn(String line) {
    boolean quoted = false;
    StringBuilder outside = new StringBuilder();
    for (int i = 0; i < line.length(); i++) {
      char c = line.charAt(i);
      quoted ^= c == '"';
      if (!quoted) {
        outside.append(c);
      }
    }
    return SEPARATORS.keySet().stream().filter(c -> outside.indexOf(c.toString()) >= 0).toList();
  }

  private static String separatorProblem(List<Character> found) {
    if (found.isEmpty()) {
      return "the first line has neither comma nor semicolon nor tab; it must name the columns, "
          + "separated by one of them";
    }
    List<String> names = found.stream().map(c -> String.valueOf(SEPARATORS.get(c))).toList();
    return "the first line has "
        + String.join(" and ", names)
        + "; which one separates the columns is not guessed: use one of them only";
  }

  private static TableOutcome refused(Code code, String file, int line, String message) {
    return new TableOutcome.Refused(List.of(DataIssue.error(code, file, line, "", "", message)));
  }
}
