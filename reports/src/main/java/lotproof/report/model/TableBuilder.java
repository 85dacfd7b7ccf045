package lotproof.report.model;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.Set;
import java.util.function.Function;
import java.util.stream.Collectors;
import lotproof.report.model.Table.Column;
import lotproof.report.model.Table.Role;
import lotproof.report.model.Table.Row;

/**
 * A table column by column: each says what it shows of the item of a row. A value is a number,
 * words, an optional of one of them, or a {@link Cell}. A heading may end with a unit: {@code Load
 * [kg]}.
 *
 * @param <T> what the rows are about
 */
public final class TableBuilder<T> {
  private final String id;
  private final String title;
  private final List<Column> columns = new ArrayList<>();
  private final List<Function<T, Cell>> cells = new ArrayList<>();
  private String missing = "none";
  private Role role = Role.READ;
  private int mostRead = Integer.MAX_VALUE;
  private Prose note = Prose.none();

  /** A table of that id and title. */
  public TableBuilder(String id, String title) {
    this.id = id;
    this.title = title;
  }

  /** A table for a terminal alone. */
  public TableBuilder(String title) {
    this("screen", title);
  }

  /** Adds a column whose key is its title in lower case, with hyphens for all but letters. */
  public TableBuilder<T> add(String heading, Format format, Function<? super T, ?> value) {
    Column column = Column.of("key", heading, format);
    return add(new Column(freeKey(column.title()), column.title(), column.unit(), format), value);
  }

  /** Adds a column. */
  public TableBuilder<T> add(Column column, Function<? super T, ?> value) {
    String reason = missing;
    columns.add(column);
    cells.add(item -> cell(value.apply(item), reason));
    return this;
  }

  /** Lets text, which is narrow, show the last column on demand only. */
  public TableBuilder<T> secondary() {
    return use(Column.Use.SECONDARY);
  }

  /** Lets the workbook show the last column on the screen only. */
  public TableBuilder<T> beside() {
    return use(Column.Use.BESIDE);
  }

  private TableBuilder<T> use(Column.Use use) {
    columns.add(columns.remove(columns.size() - 1).as(use));
    return this;
  }

  /**
   * How numbers and words of the last column follow from other cells of a workbook, unless that is
   * an empty optional.
   */
  public TableBuilder<T> live(Function<? super T, ?> formula) {
    Function<T, Cell> plain = cells.remove(cells.size() - 1);
    cells.add(
        item -> {
          Cell cell = plain.apply(item);
          Object known = cell instanceof Cell.Missing ? Optional.empty() : formula.apply(item);
          Optional<?> behind = known instanceof Optional<?> some ? some : Optional.of(known);
          return behind.isPresent() ? cell.from((Formula) behind.get()) : cell;
        });
    return this;
  }

  /** Why something is missing in the columns that follow. */
  public TableBuilder<T> missing(String reason) {
    missing = reason;
    return this;
  }

  /** Makes it a table that the page only names. */
  public TableBuilder<T> detail() {
    role = Role.DETAIL;
    return this;
  }

  /** Makes it a table that is looked up, not read. */
  public TableBuilder<T> evidence() {
    return readUpTo(-1);
  }

  /** Makes it a table that is looked up, not read, when it has more rows. */
  public TableBuilder<T> readUpTo(int rows) {
    mostRead = rows;
    return this;
  }

  /** What a reader must know about it; see {@link Prose#of}. */
  public TableBuilder<T> note(String pattern, Object... parts) {
    note = Prose.of(pattern, parts);
    return this;
  }

  /** The table with a row for each item. */
  public Table of(List<? extends T> items) {
    List<Row> rows = new ArrayList<>();
    for (T item : items) {
      rows.add(new Row(cells.stream().map(cell -> cell.apply(item)).toList()));
    }
    return new Table(id, title, rows.size() > mostRead ? Role.EVIDENCE : role, columns, rows, note);
  }

  /** A key made of a title that no other column has. */
  String freeKey(String title) {
    String plain =
        title.toLowerCase(Locale.ROOT).replaceAll("[^a-z0-9]+", "-").replaceAll("^[-0-9]+|-$", "");
    String base = plain.isEmpty() ? "column" : plain.substring(0, Math.min(50, plain.length()));
    Set<String> taken = columns.stream().map(Column::key).collect(Collectors.toSet());
    String key = base;
    for (int n = 2; taken.contains(key); n++) {
      key = base + "-" + n;
    }
    return key;
  }

  private static Cell cell(Object value, String reason) {
    if (value instanceof Optional<?> optional) {
      return optional.isPresent() ? cell(optional.get(), reason) : Cell.missing(reason);
    }
    if (value instanceof OptionalDouble number) {
      return number.isPresent() ? cell(number.getAsDouble(), reason) : Cell.missing(reason);
    }
    if (value instanceof OptionalInt number) {
      return number.isPresent() ? Cell.number(number.getAsInt()) : Cell.missing(reason);
    }
    if (value instanceof Number number) {
      return Double.isInfinite(number.doubleValue())
          ? Cell.missing("no limit known")
          : Cell.number(number.doubleValue());
    }
    return value instanceof Cell cell ? cell : Cell.text((String) value);
  }
}
