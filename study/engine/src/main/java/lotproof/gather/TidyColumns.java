package lotproof.gather;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import lotproof.folder.Nearest;
import lotproof.folder.ReadingColumn;
import lotproof.folder.UnitsOfMeasure;
import lotproof.folder.UnitsOfMeasure.Unit;
import lotproof.study.DataIssue;
import lotproof.study.DataIssue.Code;

/** Which column of a received table means what, and in which unit. */
final class TidyColumns {
  private static final Pattern WITH_UNIT = Pattern.compile("(.*?)\\s*\\[\\s*(.*?)\\s*]");

  /** A column of the table that was understood. */
  record Column(int index, String header, ReadingColumn meaning, Optional<Unit> unit) {
    /** What is done to its numbers; empty when nothing. */
    String conversion() {
      return unit.filter(given -> !meaning.unit().equals(Optional.of(given)))
          .map(given -> given.symbol() + " to " + meaning.unit().orElseThrow().symbol())
          .orElse("");
    }
  }

  private final String file;
  private final Row header;
  private final Map<ReadingColumn, Column> columns = new EnumMap<>(ReadingColumn.class);
  private final Set<Integer> claimed = new TreeSet<>();
  private final List<DataIssue> issues = new ArrayList<>();

  private TidyColumns(String file, Row header) {
    this.file = file;
    this.header = header;
  }

  static TidyColumns of(String file, Table table) {
    TidyColumns columns = new TidyColumns(file, table.header());
    for (int i = 0; i < table.header().cells().size(); i++) {
      if (table.header().cell(i) instanceof Cell.Text text) {
        columns.name(i, text.value());
      } else if (!(table.header().cell(i) instanceof Cell.Blank)) {
        columns.issue(Code.COLUMN_UNKNOWN, columns.position(i), "a column name must be text");
      }
    }
    columns.reportMissing();
    columns.reportNameless(table.rows());
    return columns;
  }

  Optional<Column> column(ReadingColumn meaning) {
    return Optional.ofNullable(columns.get(meaning));
  }

  /** Whether all required columns are there and every column is understood. */
  boolean areSound() {
    return issues.isEmpty();
  }

  List<DataIssue> issues() {
    return issues;
  }

  List<ColumnUse> uses() {
    return columns.values().stream()
        .sorted(Comparator.comparingInt(Column::index))
        .map(c -> new ColumnUse(c.index() + 1, c.header(), c.meaning().header(), c.conversion()))
        .toList();
  }

  private void name(int index, String name) {
    claimed.add(index);
    Matcher parts = WITH_UNIT.matcher(name);
    boolean bracketed = parts.matches();
    String word = bracketed ? parts.group(1) : name;
    Optional<ReadingColumn> meaning = ReadingColumn.ofWord(word);
    if (meaning.isEmpty() || (bracketed && meaning.get().unit().isEmpty())) {
      String hint = Nearest.hint(name, ReadingColumn.headers(), "the columns are");
      issue(Code.COLUMN_UNKNOWN, name, "\"" + name + "\" is no column of readings; " + hint);
      return;
    }
    Optional<Unit> unit = Optional.empty();
    if (meaning.get().unit().isPresent()) {
      unit = unit(name, meaning.get(), bracketed ? parts.group(2) : "");
    }
    add(new Column(index, name, meaning.get(), unit));
  }

  private Optional<Unit> unit(String name, ReadingColumn meaning, String symbol) {
    UnitsOfMeasure.Dimension dimension = meaning.unit().orElseThrow().dimension();
    Optional<Unit> unit = UnitsOfMeasure.find(dimension, symbol);
    if (unit.isEmpty()) {
      String example =
          "write "
              + meaning.header()
              + (UnitsOfMeasure.units(dimension).size() > 1
                  ? ", with " + UnitsOfMeasure.symbols(dimension) + " in the brackets"
                  : "");
      String wrong =
          symbol.isEmpty()
              ? "the column has no unit"
              : "\"" + symbol + "\" is no unit of " + dimension.words();
      issue(Code.UNIT_OF_MEASURE_UNKNOWN, name, wrong + "; " + example);
    }
    return unit;
  }

  private void add(Column column) {
    Column earlier = columns.putIfAbsent(column.meaning(), column);
    if (earlier != null) {
      issue(
          Code.COLUMN_REPEATED,
          column.header(),
          position(column.index())
              + " means "
              + column.meaning().word()
              + ", as "
              + position(earlier.index())
              + " does (\""
              + earlier.header()
              + "\"); keep one");
    }
  }

  private void reportMissing() {
    for (ReadingColumn meaning : ReadingColumn.values()) {
      if (meaning.required() && !columns.containsKey(meaning)) {
        issue(
            Code.COLUMN_MISSING,
            meaning.header(),
            "there is no column \"" + meaning.header() + "\"; every reading needs it");
      }
    }
  }

  private void reportNameless(List<Row> rows) {
    Set<Integer> told = new TreeSet<>(claimed);
    for (Row row : rows) {
      for (int i = 0; i < row.cells().size(); i++) {
        if (!(row.cell(i) instanceof Cell.Blank) && told.add(i)) {
          issues.add(
              DataIssue.error(
                  Code.COLUMN_UNKNOWN,
                  file,
                  row.number(),
                  position(i),
                  "",
                  "there is a value in a column that has no name"));
        }
      }
    }
  }

  private String position(int index) {
    return "column " + (index + 1);
  }

  private void issue(Code code, String column, String message) {
    issues.add(DataIssue.error(code, file, header.number(), column, "", message));
  }
}
