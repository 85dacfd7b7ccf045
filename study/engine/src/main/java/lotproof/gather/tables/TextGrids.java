package lotproof.gather.tables;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStream;
import java.io.InputStreamReader;
import java.io.Reader;
import java.io.UncheckedIOException;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
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

  private final ReceivedFile file;
  private final TextEncoding encoding;

  private TextGrids(ReceivedFile file, TextEncoding encoding) {
    this.file = file;
    this.encoding = encoding;
  }

  /** Opens a text file. */
  public static Result<List<Grid>> of(ReceivedFile file, Mapping mapping) {
    Result<TextEncoding> encoding = TextEncoding.of(file, mapping.setting(Setting.ENCODING));
    return encoding.isRefused()
        ? Result.refused(encoding.issues())
        : new TextGrids(file, encoding.get()).open(mapping);
  }

  private Result<List<Grid>> refused(Code code, int line, String why) {
    return Result.refused(DataIssue.error(code, file.name(), line, "", "", why));
  }

  private Result<List<Grid>> open(Mapping mapping) {
    String head = head();
    if (head.isBlank()) {
      return refused(Code.FILE_EMPTY, 0, "the file is empty");
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
    if (grids.isEmpty() && tells) {
      return refused(
          Code.FILE_TYPE,
          1,
          "the separator \"" + first.charAt(4) + "\" is none of comma, semicolon, tab and bar");
    } else if (grids.isEmpty()) {
      return refused(
          Code.FILE_TYPE,
          1,
          "there is neither comma nor semicolon nor tab nor bar; a table of readings has columns,"
              + " separated by one of them");
    }
    return Result.of(grids);
  }

  private String head() {
    try (InputStream bytes = file.stream()) {
      bytes.skipNBytes(encoding.skip());
      return new String(bytes.readNBytes(HEAD), encoding.charset());
    } catch (IOException e) {
      throw new UncheckedIOException("reading from memory cannot fail", e);
    }
  }

  private Reader reader() throws IOException {
    InputStream bytes = file.stream();
    bytes.skipNBytes(encoding.skip());
    return new BufferedReader(new InputStreamReader(bytes, encoding.charset()));
  }

  private Grid grid(char separator, String name, boolean tells) {
    List<DataIssue> issues = new ArrayList<>();
    if (encoding.doubtful()) {
      issues.add(
          DataIssue.warning(
              Code.AMBIGUOUS,
              file.name(),
              0,
              "",
              "",
              "the text is not UTF-8 and was read as windows-1252; letters in remarks and names can"
                  + " be wrong (--encoding names another code page)"));
    }
    Grid.Rows rows = wantsMore -> forEach(separator, tells, wantsMore);
    LastLine.doubt(file, encoding.charset(), encoding.skip(), rows, at -> "column " + letters(at))
        .ifPresent(issues::add);
    return new Grid(
        "",
        List.of(new Fact("encoding", encoding.words()), new Fact("separator", name)),
        separator,
        rows,
        issues);
  }

  private static String letters(int column) {
    String last = String.valueOf((char) ('A' + column % 26));
    return column < 26 ? last : letters(column / 26 - 1) + last;
  }

  private Optional<DataIssue> forEach(char separator, boolean tells, Predicate<Row> wantsMore) {
    try (Reader reader = reader()) {
      return CsvText.forEach(reader, separator, line -> take(line, tells, wantsMore))
          .map(
              broken ->
                  DataIssue.error(
                      Code.FILE_UNREADABLE, file.name(), broken.line(), "", "", broken.why()));
    } catch (IOException e) {
      throw new UncheckedIOException("reading from memory cannot fail", e);
    }
  }

  private static boolean take(CsvText.Line line, boolean tells, Predicate<Row> wantsMore) {
    if (line.number() == 1 && tells) {
      return true;
    }
    Row row = new Row(line.number(), line.fields().stream().map(Cell::of).toList());
    return row.isBlank() || wantsMore.test(row);
  }
}
