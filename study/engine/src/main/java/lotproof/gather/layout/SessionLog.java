package lotproof.gather.layout;

import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import lotproof.folder.ReceivedFile;
import lotproof.folder.text.ReadingColumn;
import lotproof.gather.tables.Cell;
import lotproof.gather.tables.Fact;
import lotproof.gather.tables.Grid;
import lotproof.gather.tables.Mapping;
import lotproof.gather.tables.Row;
import lotproof.gather.tables.RowNumbers;
import lotproof.gather.tables.Setting;
import lotproof.study.DataIssue;
import lotproof.study.DataIssue.Code;
import lotproof.study.Study;
import lotproof.study.UnitKind;

/**
 * The log of a whole session at a terminal: captures one after the other, each behind marks that
 * say run, cell, board and load of it, such as {@code # run R1 cell CA-001 board BA-001} and {@code
 * --- 20 kg ---}. Its manifest is made of the marks.
 */
public final class SessionLog {
  /** The column of a manifest that names the file of a capture. */
  public static final String FILE = "file";

  /** The column of a manifest that names the lines of it. */
  public static final String LINES = "lines";

  private static final int LONGEST_MARK = 300;

  /** What marks say, in the order of the manifest's columns. */
  private static final List<ReadingColumn> MARKED =
      List.of(
          ReadingColumn.SESSION,
          ReadingColumn.RUN,
          ReadingColumn.STEP,
          ReadingColumn.CELL,
          ReadingColumn.BOARD,
          ReadingColumn.LOAD,
          ReadingColumn.CELL_TEMPERATURE,
          ReadingColumn.BOARD_TEMPERATURE);

  /** A known name with a value that holds a digit; behind a number its unit. */
  private static final Pattern NAMED =
      Pattern.compile(
          "(?i)(?<![\\w-])("
              + ColumnSynonyms.names(MARKED).stream()
                  .map(name -> name.replace(" ", "[ _.-]?"))
                  .collect(Collectors.joining("|"))
              + ")(?: +(?:start|begin|no|nr|id))?\\s*[:=#]?\\s*([+-]?[0-9][0-9.,]*\\s*(?:kg|g|lbs?|oz|N|\u00b0?[CF])(?![\\w-])"
              + "|[\\w./-]*[0-9][\\w./-]*)");

  /** A load without its name. */
  private static final Pattern LOAD =
      Pattern.compile("(?i)(?<![\\w.,-])([0-9][0-9.,]*\\s*(?:kg|g|lbs?|oz|N))(?![\\w/-])");

  /** A line that is a mark whatever it says: between strokes, or in front of a colon. */
  private static final Pattern MARK = Pattern.compile("\\s*(?:[#=*>/|\\[-].*|.*:\\s*)");

  private static final Pattern TIME =
      Pattern.compile(
          "\\s*\\[?(?:\\d{4}-\\d\\d-\\d\\d[T ])?\\d\\d:\\d\\d:\\d\\d(?:\\.\\d+)?\\]?\\s*");
  private static final Pattern SAMPLE = Pattern.compile("(?:->)?\\s*[+-]?[0-9][0-9.,]*\\s*");

  private final ReceivedFile file;
  private final ReadingContext context;
  private final Map<ReadingColumn, String> said = new EnumMap<>(ReadingColumn.class);
  private final List<Row> rows = new ArrayList<>();
  private final List<Integer> unmarked = new ArrayList<>();
  private int step;
  private int from;
  private int to;

  private SessionLog(ReceivedFile file, Study study, Mapping mapping) {
    this.file = file;
    this.context = new ReadingContext(file, study, mapping);
  }

  /** The manifest of a log; empty where no mark names a load. */
  public static Optional<Grid> manifest(ReceivedFile file, Study study, Mapping mapping) {
    return new SessionLog(file, study, mapping).read();
  }

  private Optional<Grid> read() {
    int number = 0;
    for (String line : file.text(StandardCharsets.ISO_8859_1, 0).split("\r\n|\r|\n", -1)) {
      number++;
      Map<ReadingColumn, String> marks = marks(line);
      if (!marks.isEmpty()) {
        end();
        take(marks);
      } else if (!line.isBlank()) {
        from = from == 0 ? number : from;
        to = number;
        if (!said.containsKey(ReadingColumn.LOAD) && isSample(line)) {
          unmarked.add(number);
        }
      }
    }
    end();
    if (rows.isEmpty()) {
      return Optional.empty();
    }
    // a column of which no mark says anything is none
    List<String> names =
        Stream.concat(MARKED.stream().map(ReadingColumn::word), Stream.of(FILE, LINES)).toList();
    List<Integer> columns =
        IntStream.range(0, names.size())
            .filter(i -> rows.stream().anyMatch(row -> !(row.cell(i) instanceof Cell.Blank)))
            .boxed()
            .toList();
    Row header = new Row(0, names.stream().map(Cell::of).toList());
    List<Row> all =
        Stream.concat(Stream.of(header), rows.stream())
            .map(row -> new Row(row.number(), columns.stream().map(row::cell).toList()))
            .toList();
    Fact fact = new Fact("format", "log of a terminal with marks, captures: " + rows.size());
    return Optional.of(new Grid("", List.of(fact), ';', Grid.Rows.of(all), unmarked()));
  }

  private static boolean isSample(String line) {
    return SAMPLE.matcher(TIME.matcher(line).replaceFirst("")).matches();
  }

  /** Samples of which no mark says the load; nobody said to skip them. */
  private List<DataIssue> unmarked() {
    Optional<String> skipped = context.told(Setting.SKIP_ROWS);
    unmarked.removeIf(line -> skipped.filter(rows -> RowNumbers.hold(rows, line)).isPresent());
    String message =
        "numbers stand here and no mark above says their load; put a line such as \"# load 20 kg\""
            + " above them, or leave them out with --skip-rows "
            + RowNumbers.of(unmarked);
    return unmarked.stream()
        .limit(1)
        .map(line -> DataIssue.error(Code.DATA_SKIPPED, file.name(), line, message))
        .toList();
  }

  /** What a line says of the samples below it; nothing where it is no mark. */
  private Map<ReadingColumn, String> marks(String line) {
    Map<ReadingColumn, String> marks = new EnumMap<>(ReadingColumn.class);
    if (line.length() > LONGEST_MARK) {
      return marks;
    }
    String text = TIME.matcher(line).replaceFirst("");
    Matcher named = NAMED.matcher(text);
    while (named.find()) {
      ColumnSynonyms.meanings(ColumnSynonyms.plain(named.group(1))).stream()
          .filter(MARKED::contains)
          .forEach(column -> marks.putIfAbsent(column, named.group(2)));
    }
    for (String word : text.split("[\\s,;|/()\\[\\]]+", -1)) {
      for (UnitKind kind : UnitKind.values()) {
        if (context.is(kind, word)) {
          marks.put(kind == UnitKind.CELL ? ReadingColumn.CELL : ReadingColumn.BOARD, word);
        }
      }
    }
    Matcher load = LOAD.matcher(text);
    if ((!marks.isEmpty() || MARK.matcher(text).matches()) && load.find()) {
      marks.putIfAbsent(ReadingColumn.LOAD, load.group(1));
    }
    return marks;
  }

  private void take(Map<ReadingColumn, String> marks) {
    if (marks.keySet().stream()
        .anyMatch(List.of(ReadingColumn.RUN, ReadingColumn.CELL, ReadingColumn.BOARD)::contains)) {
      // names of the run may stand in several lines; its first capture ends them
      if (step > 0) {
        said.keySet().retainAll(List.of(ReadingColumn.SESSION));
        step = 0;
      }
    }
    said.putAll(marks);
  }

  /** What stands between two marks is the capture of the load that was named. */
  private void end() {
    if (from > 0 && said.containsKey(ReadingColumn.LOAD)) {
      step++;
      List<Cell> cells = new ArrayList<>();
      for (ReadingColumn column : MARKED) {
        String otherwise = column == ReadingColumn.STEP ? String.valueOf(step) : "";
        cells.add(Cell.of(said.getOrDefault(column, otherwise)));
      }
      cells.add(Cell.of(file.name()));
      cells.add(Cell.of(from + "-" + to));
      rows.add(new Row(from, cells));
      said.keySet().removeAll(List.of(ReadingColumn.LOAD, ReadingColumn.STEP));
    }
    from = 0;
  }
}
