package lotproof.report.model;

import java.util.ArrayList;
import java.util.List;
import java.util.function.Function;

/**
 * A table.
 *
 * @param id plain id, unique in the report
 * @param title what the table shows
 * @param role whether it is read or looked up
 * @param columns its columns
 * @param rows its rows, each with one cell for each column; may be empty
 * @param note what a reader must know about it; may be empty
 */
public record Table(
    String id, String title, Role role, List<Column> columns, List<Row> rows, Prose note)
    implements Block {

  /** Whether a table is read or looked up. */
  public enum Role {
    /** Read in the flow of the report. */
    READ,
    /** Read in the workbook, and in text on demand; the page says where it is. */
    DETAIL,
    /** Evidence to be looked up: the readings, all units. May be long. */
    EVIDENCE
  }

  /**
   * A column.
   *
   * @param key plain id, unique in the table; names the CSV column
   * @param title heading
   * @param unit unit of all its numbers; empty for words and pure numbers
   * @param format what it holds
   * @param use how text and workbook use it
   */
  public record Column(String key, String title, String unit, Format format, Use use) {
    /** How a column is used. */
    public enum Use {
      SHOWN,
      /** Text, which is narrow, shows it on demand only. */
      SECONDARY,
      /** A reader of the workbook may change it. */
      INPUT,
      /** The workbook shows it on the screen, beside the table, and not on paper. */
      BESIDE
    }

    public Column {
      Check.id(key, "column key");
      Check.text(title, "column title");
    }

    /** A column that is always shown. */
    public Column(String key, String title, String unit, Format format) {
      this(key, title, unit, format, Use.SHOWN);
    }

    /** A column whose heading may end with its unit: {@code Load [kg]}. */
    public static Column of(String key, String heading, Format format) {
      int at = heading.endsWith("]") ? heading.lastIndexOf(" [") : -1;
      return at < 0
          ? new Column(key, heading, "", format)
          : new Column(
              key,
              heading.substring(0, at),
              heading.substring(at + 2, heading.length() - 1),
              format);
    }

    /** The same, used in another way. */
    public Column as(Use other) {
      return new Column(key, title, unit, format, other);
    }

    /** Whether text shows it on demand only. */
    public boolean secondary() {
      return use == Use.SECONDARY;
    }

    /** Title with the unit. */
    public String heading() {
      return unit.isEmpty() ? title : title + " [" + unit + "]";
    }

    /** What it holds. */
    public Format.Kind kind() {
      return format.kind();
    }
  }

  /** A row: one cell for each column. */
  public record Row(List<Cell> cells) {
    public Row {
      cells = List.copyOf(cells);
    }

    /** A row of these cells. */
    public static Row of(Cell... cells) {
      return new Row(List.of(cells));
    }
  }

  public Table {
    Check.id(id, "table id");
    Check.text(title, "table title");
    columns = List.copyOf(columns);
    rows = List.copyOf(rows);
    if (columns.isEmpty()) {
      throw new IllegalArgumentException("table " + id + " has no column");
    }
    Check.distinct(columns.stream().map(Column::key).toList(), "column keys of " + id);
    for (int r = 0; r < rows.size(); r++) {
      checkRow("table " + id + ": row " + (r + 1), columns, rows.get(r));
    }
  }

  /**
   * The same with these columns as inputs of a workbook, and beside it what was recorded in them,
   * so that a change can be seen.
   */
  public Table withRecord(String... inputs) {
    Table table = this;
    for (String key : inputs) {
      int from = columnIndex(key);
      Column c = columns.get(from);
      List<Column> marked = new ArrayList<>(table.columns);
      marked.set(from, c.as(Column.Use.INPUT));
      table =
          new Table(id, title, role, marked, table.rows, note)
              .beside(
                  new Column(recorded(key), c.title() + ", as recorded", c.unit(), c.format()),
                  row -> row.cells().get(from));
    }
    return table;
  }

  /** The same with one more column beside it, which is not printed. */
  public Table beside(Column column, Function<Row, Cell> cell) {
    List<Column> all = new ArrayList<>(columns);
    all.add(column.as(Column.Use.BESIDE));
    List<Row> extended = new ArrayList<>();
    for (Row row : rows) {
      List<Cell> cells = new ArrayList<>(row.cells());
      cells.add(cell.apply(row));
      extended.add(new Row(cells));
    }
    return new Table(id, title, role, all, extended, note);
  }

  /** Key of the column that holds what was recorded in an input. */
  public static String recorded(String input) {
    return input + "-recorded";
  }

  /** Position of the column of that key, counted from 0. */
  public int columnIndex(String key) {
    for (int c = 0; c < columns.size(); c++) {
      if (columns.get(c).key().equals(key)) {
        return c;
      }
    }
    throw new IllegalArgumentException("table " + id + " has no column \"" + key + "\"");
  }

  private static void checkRow(String where, List<Column> columns, Row row) {
    List<Cell> cells = row.cells();
    if (cells.size() != columns.size()) {
      throw new IllegalArgumentException(
          where + " has " + cells.size() + " cells for " + columns.size() + " columns");
    }
    for (int c = 0; c < cells.size(); c++) {
      Class<? extends Cell> other =
          columns.get(c).kind().numeric() ? Cell.Text.class : Cell.Numeric.class;
      if (other.isInstance(cells.get(c))) {
        throw new IllegalArgumentException(
            where + ", column " + columns.get(c).key() + " cannot hold " + cells.get(c));
      }
    }
  }
}
