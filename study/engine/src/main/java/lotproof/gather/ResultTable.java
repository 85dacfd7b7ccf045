package lotproof.gather;

import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import lotproof.folder.ReceivedFile;
import lotproof.folder.text.Nearest;
import lotproof.gather.tables.Cell;
import lotproof.gather.tables.Row;
import lotproof.gather.tables.Table;
import lotproof.gather.tables.Table.NumberStyle;
import lotproof.gather.tables.TableOutcome;
import lotproof.gather.tables.TableReaders;
import lotproof.study.DataIssue;
import lotproof.study.DataIssue.Code;

/**
 * Takes one column of numbers and any columns of labels out of a table that has no layout of ours.
 */
public final class ResultTable {
  private static final double SMALLEST = 1e-15;
  private static final double LARGEST = 1e15;

  private final String file;
  private final Table table;
  private final List<DataIssue> issues = new ArrayList<>();

  private ResultTable(String file, Table table) {
    this.file = file;
    this.table = table;
  }

  /** What came of it. */
  public sealed interface Outcome {

    /**
     * The columns are there and every row has what it needs.
     *
     * @param rows line of each row in the file
     * @param values one number for each row
     * @param labels for each label column its text in each row
     * @param numbers for each further column of numbers its value in each row
     * @param warnings what a person should know
     */
    record Found(
        List<Integer> rows,
        List<Double> values,
        Map<String, List<String>> labels,
        Map<String, List<Double>> numbers,
        List<DataIssue> warnings)
        implements Outcome {
      public Found {
        rows = List.copyOf(rows);
        values = List.copyOf(values);
        warnings = List.copyOf(warnings);
      }
    }

    /** The table cannot be used; at least one of the issues is an error. */
    record Refused(List<DataIssue> issues) implements Outcome {
      public Refused {
        issues = List.copyOf(issues);
      }
    }
  }

  /**
   * Reads a table.
   *
   * @param received the file
   * @param readers kinds of file that can be read
   * @param valueColumn header of the column of numbers
   * @param labelColumns headers of the columns of labels
   * @param numberColumns headers of further columns of numbers
   */
  public static Outcome read(
      ReceivedFile received,
      TableReaders readers,
      String valueColumn,
      List<String> labelColumns,
      List<String> numberColumns) {
    TableOutcome outcome = readers.read(received);
    if (outcome instanceof TableOutcome.Refused refused) {
      return new Outcome.Refused(refused.issues());
    }
    TableOutcome.Found found = (TableOutcome.Found) outcome;
    ResultTable table = new ResultTable(received.name(), found.table());
    table.issues.addAll(found.issues());
    return table.take(valueColumn, labelColumns, numberColumns);
  }

  private Outcome take(String valueColumn, List<String> labelColumns, List<String> numberColumns) {
    OptionalInt valueAt = column(valueColumn);
    Map<String, Integer> labelAt = new LinkedHashMap<>();
    for (String label : labelColumns) {
      column(label).ifPresent(at -> labelAt.put(label, at));
    }
    Map<String, Integer> numberAt = new LinkedHashMap<>();
    for (String number : numberColumns) {
      column(number).ifPresent(at -> numberAt.put(number, at));
    }
    Map<String, List<Double>> numbers = new LinkedHashMap<>();
    numberAt.keySet().forEach(number -> numbers.put(number, new ArrayList<>()));
    List<Double> values = new ArrayList<>();
    Map<String, List<String>> labels = new LinkedHashMap<>();
    labelAt.keySet().forEach(label -> labels.put(label, new ArrayList<>()));
    if (valueAt.isPresent()) {
      for (Row row : table.rows()) {
        number(row, valueAt.getAsInt(), valueColumn).ifPresent(values::add);
        labels.forEach(
            (label, texts) -> {
              int at = labelAt.getOrDefault(label, 0);
              texts.add(label(row, at, label));
            });
        numbers.forEach(
            (column, list) ->
                number(row, numberAt.getOrDefault(column, 0), column).ifPresent(list::add));
      }
      if (table.rows().isEmpty()) {
        error(Code.FILE_EMPTY, 0, "", "the table has a header and no row");
      }
    }
    return issues.stream().anyMatch(DataIssue::isError)
        ? new Outcome.Refused(issues)
        : new Outcome.Found(
            table.rows().stream().map(Row::number).toList(), values, labels, numbers, issues);
  }

  private OptionalInt column(String name) {
    List<String> headers = table.header().cells().stream().map(ResultTable::text).toList();
    int at = headers.indexOf(name);
    if (at < 0) {
      List<String> named = headers.stream().filter(header -> !header.isEmpty()).toList();
      String hint = Nearest.hint(name, named, "columns of the file");
      error(
          Code.COLUMN_MISSING,
          table.header().number(),
          name,
          "there is no column \"" + name + "\"; " + hint);
      return OptionalInt.empty();
    }
    if (headers.lastIndexOf(name) != at) {
      error(
          Code.COLUMN_REPEATED,
          table.header().number(),
          name,
          "two columns are named \"" + name + "\"; which one is meant is not guessed");
    }
    return OptionalInt.of(at);
  }

  private Optional<Double> number(Row row, int at, String column) {
    Cell cell = row.cell(at);
    if (cell instanceof Cell.Numeric numeric) {
      return possible(numeric.value().doubleValue(), row, column);
    }
    if (cell instanceof Cell.Unusable) {
      return Optional.empty();
    }
    String text = text(cell);
    if (text.isEmpty()) {
      error(Code.VALUE_MISSING, row.number(), column, "there is no value in this row");
      return Optional.empty();
    }
    boolean comma = table.numbers() == NumberStyle.POINT_OR_COMMA;
    try {
      return possible(
          new BigDecimal(comma ? text.replace(',', '.') : text).doubleValue(), row, column);
    } catch (NumberFormatException e) {
      error(Code.NOT_A_NUMBER, row.number(), column, "\"" + text + "\" is not a number");
      return Optional.empty();
    }
  }

  /** Beyond this range squares and their sums lose all digits. */
  private Optional<Double> possible(double value, Row row, String column) {
    double size = Math.abs(value);
    if (size == 0 || (size >= SMALLEST && size <= LARGEST)) {
      return Optional.of(value);
    }
    error(
        Code.OUT_OF_RANGE,
        row.number(),
        column,
        value + " is impossible: a value is 0, or in size 1e-15 to 1e15; choose another unit");
    return Optional.empty();
  }

  private String label(Row row, int at, String column) {
    String text = text(row.cell(at));
    if (text.isEmpty()) {
      error(Code.VALUE_MISSING, row.number(), column, "there is no label in this row");
    }
    return text;
  }

  private static String text(Cell cell) {
    if (cell instanceof Cell.Text text) {
      return text.value();
    }
    if (cell instanceof Cell.Numeric numeric) {
      return numeric.shown();
    }
    return cell instanceof Cell.DateTime time ? time.value().toString() : "";
  }

  private void error(Code code, int line, String column, String message) {
    issues.add(DataIssue.error(code, file, line, column, "", message));
  }
}
