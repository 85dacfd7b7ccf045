package lotproof.report.model;

import java.util.List;
import java.util.Locale;
import java.util.Optional;

/**
 * A table.
 *
 * @param tableId plain id, unique in the report
 * @param title what the table shows
 * @param role whether it is read or looked up
 * @param columns its columns
 * @param rows its rows, each with one cell for each column; may be empty
 * @param note what a reader must know about it; may be empty
 */
public record Table(
    String tableId, String title, Role role, List<Column> columns, List<Row> rows, Prose note)
    implements Block {

  /** Whether a table is read or looked up. */
  public enum Role {
    /** Read in the flow of the report. */
    READ,
    /** Evidence to be looked up: the readings, all units. May be long. */
    EVIDENCE
  }

  /** What a column holds. */
  public enum ColumnKind {
    /** Words. */
    TEXT,
    /** The serial of a unit; people search for it. */
    SERIAL,
    /** A file and row. */
    PLACE,
    /** Numbers with fixed decimals. */
    DECIMAL,
    /** Numbers with fixed significant digits. */
    SIGNIFICANT,
    /** Fractions in 0..1, read as percentages. */
    FRACTION,
    /** Whole numbers. */
    COUNT;

    /** Whether the column holds numbers. */
    public boolean numeric() {
      return this == DECIMAL || this == SIGNIFICANT || this == FRACTION || this == COUNT;
    }
  }

  /**
   * A column.
   *
   * @param key plain id, unique in the table; names the CSV column
   * @param title heading
   * @param unit unit of all its numbers; empty for words and pure numbers
   * @param kind what it holds
   * @param digits decimals or significant digits; 0 for words
   */
  public record Column(String key, String title, String unit, ColumnKind kind, int digits) {
    public Column {
      Check.id(key, "column key");
      Check.text(title, "column title");
      Check.digits(digits);
      if (kind == ColumnKind.SIGNIFICANT && digits == 0) {
        throw new IllegalArgumentException("significant digits must be 1 or more, was 0");
      }
    }

    /** Words. */
    public static Column text(String key, String title) {
      return new Column(key, title, "", ColumnKind.TEXT, 0);
    }

    /** Serials. */
    public static Column serial(String key, String title) {
      return new Column(key, title, "", ColumnKind.SERIAL, 0);
    }

    /** Files and rows. */
    public static Column place(String key, String title) {
      return new Column(key, title, "", ColumnKind.PLACE, 0);
    }

    /** Numbers with fixed decimals. */
    public static Column decimal(String key, String title, String unit, int decimals) {
      return new Column(key, title, unit, ColumnKind.DECIMAL, decimals);
    }

    /** Numbers with significant digits. */
    public static Column significant(String key, String title, String unit, int digits) {
      return new Column(key, title, unit, ColumnKind.SIGNIFICANT, digits);
    }

    /** Fractions in 0..1, shown as percentages with the given decimals. */
    public static Column fraction(String key, String title, int decimals) {
      return new Column(key, title, "", ColumnKind.FRACTION, decimals);
    }

    /** Whole numbers. */
    public static Column count(String key, String title) {
      return new Column(key, title, "", ColumnKind.COUNT, 0);
    }

    /** Title with the unit. */
    public String heading() {
      return unit.isEmpty() ? title : title + " [" + unit + "]";
    }

    /** How its numbers may be rounded; empty for words. */
    public Optional<NumberStyle> style() {
      return switch (kind) {
        case TEXT, SERIAL, PLACE -> Optional.empty();
        case DECIMAL -> Optional.of(NumberStyle.decimals(digits));
        case SIGNIFICANT -> Optional.of(NumberStyle.significant(digits));
        case FRACTION -> Optional.of(NumberStyle.percent(digits));
        case COUNT -> Optional.of(NumberStyle.count());
      };
    }
  }

  /**
   * A row.
   *
   * @param cells one for each column
   */
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
    Check.id(tableId, "table id");
    Check.text(title, "table title");
    columns = List.copyOf(columns);
    rows = List.copyOf(rows);
    if (columns.isEmpty()) {
      throw new IllegalArgumentException("table " + tableId + " has no column");
    }
    Check.distinct(columns.stream().map(Column::key).toList(), "column keys of " + tableId);
    for (int r = 0; r < rows.size(); r++) {
      checkRow(tableId, columns, rows.get(r), r);
    }
  }

  @Override
  public Optional<String> id() {
    return Optional.of(tableId);
  }

  /** Position of the column of that key, counted from 0. */
  public int columnIndex(String key) {
    for (int c = 0; c < columns.size(); c++) {
      if (columns.get(c).key().equals(key)) {
        return c;
      }
    }
    throw new IllegalArgumentException("table " + tableId + " has no column \"" + key + "\"");
  }

  private static void checkRow(String id, List<Column> columns, Row row, int index) {
    if (row.cells().size() != columns.size()) {
      throw new IllegalArgumentException(
          String.format(
              Locale.ROOT,
              "table %s: row %d has %d cells for %d columns",
              id,
              index + 1,
              row.cells().size(),
              columns.size()));
    }
    for (int c = 0; c < columns.size(); c++) {
      Cell cell = row.cells().get(c);
      boolean number = cell instanceof Cell.Numeric || cell instanceof Cell.Computed;
      boolean words = cell instanceof Cell.Text;
      boolean numeric = columns.get(c).kind().numeric();
      if ((number && !numeric) || (words && numeric)) {
        throw new IllegalArgumentException(
            String.format(
                Locale.ROOT,
                "table %s: row %d, column %s (%s) cannot hold %s",
                id,
                index + 1,
                columns.get(c).key(),
                columns.get(c).kind(),
                cell));
      }
    }
  }
}
