package lotproof.report.model;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.function.Function;
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
  private static final String NONE = "none";

  private final String id;
  private final String title;
  private final List<Column> columns = new ArrayList<>();
  private final List<Function<T, Cell>> cells = new ArrayList<>();
  private int mostRead = Integer.MAX_VALUE;
  private Prose note = Prose.none();

  /** A table of that id and title. */
  public TableBuilder(String id, String title) {
    this.id = id;
    this.title = title;
  }

  /** A table for a terminal alone; its columns have no keys of their own. */
  public TableBuilder(String title) {
    this("screen", title);
  }

  /** Adds a column of a table for a terminal. */
  public TableBuilder<T> add(String heading, Format format, Function<? super T, ?> value) {
    return add(heading, format, value, NONE);
  }

  /** Adds a column of a table for a terminal, whose value may be missing, for that reason. */
  public TableBuilder<T> add(
      String heading, Format format, Function<? super T, ?> value, String missing) {
    return add("column-" + columns.size(), heading, format, value, missing);
  }

  /** Adds a column. */
  public TableBuilder<T> add(
      String key, String heading, Format format, Function<? super T, ?> value) {
    return add(Column.of(key, heading, format), value, NONE);
  }

  /** Adds a column whose value may be missing, for that reason. */
  public TableBuilder<T> add(
      String key, String heading, Format format, Function<? super T, ?> value, String missing) {
    return add(Column.of(key, heading, format), value, missing);
  }

  /** Adds a column whose value may be missing, for that reason. */
  public TableBuilder<T> add(Column column, Function<? super T, ?> value, String missing) {
    columns.add(column);
    cells.add(item -> cell(value.apply(item), missing));
    return this;
  }

  /**
   * Adds a column whose numbers follow from other cells, where the formula is no empty optional.
   */
  public TableBuilder<T> live(
      String key,
      String heading,
      Format format,
      Function<? super T, ?> value,
      Function<? super T, ?> formula) {
    return live(Column.of(key, heading, format), value, NONE, formula);
  }

  /** Adds a column whose numbers may be missing, and may follow from other cells. */
  public TableBuilder<T> live(
      String key,
      String heading,
      Format format,
      Function<? super T, ?> value,
      String missing,
      Function<? super T, ?> formula) {
    return live(Column.of(key, heading, format), value, missing, formula);
  }

  /** Adds a column whose numbers may be missing, and may follow from other cells. */
  public TableBuilder<T> live(
      Column column, Function<? super T, ?> value, String missing, Function<? super T, ?> formula) {
    columns.add(column);
    cells.add(
        item -> {
          Cell cell = cell(value.apply(item), missing);
          Object known = cell.number().isPresent() ? formula.apply(item) : Optional.empty();
          Object behind = known instanceof Optional<?> optional ? optional.orElse(null) : known;
          return behind == null
              ? cell
              : Cell.computed(cell.number().orElseThrow(), (Formula) behind);
        });
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

  /** What a reader must know about it. */
  public TableBuilder<T> note(String words) {
    return note(Prose.text(words));
  }

  /** What a reader must know about it. */
  public TableBuilder<T> note(Prose words) {
    note = words;
    return this;
  }

  /** The table with a row for each item. */
  public Table of(List<? extends T> items) {
    List<Row> rows = new ArrayList<>();
    for (T item : items) {
      rows.add(new Row(cells.stream().map(cell -> cell.apply(item)).toList()));
    }
    return new Table(
        id, title, rows.size() > mostRead ? Role.EVIDENCE : Role.READ, columns, rows, note);
  }

  private static Cell cell(Object value, String missing) {
    if (value instanceof Optional<?> optional) {
      return optional.isPresent() ? cell(optional.get(), missing) : Cell.missing(missing);
    }
    if (value instanceof OptionalDouble number) {
      return number.isPresent() ? Cell.number(number.getAsDouble()) : Cell.missing(missing);
    }
    if (value instanceof OptionalInt number) {
      return number.isPresent() ? Cell.number(number.getAsInt()) : Cell.missing(missing);
    }
    if (value instanceof Number number) {
      return Cell.number(number.doubleValue());
    }
    return value instanceof Cell cell ? cell : Cell.text((String) value);
  }
}
