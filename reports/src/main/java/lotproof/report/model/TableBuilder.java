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
 * words, an optional of one of them, or a {@link Cell}.
 *
 * @param <T> what the rows are about
 */
public final class TableBuilder<T> {
  private record Part<T>(
      Column column,
      Function<? super T, ?> value,
      String missing,
      Function<? super T, Optional<Formula>> formula) {

    Cell of(T item) {
      Cell cell = cell(value.apply(item), missing);
      OptionalDouble number = cell.number();
      return number.isEmpty()
          ? cell
          : formula.apply(item).map(f -> Cell.computed(number.getAsDouble(), f)).orElse(cell);
    }
  }

  private final String id;
  private final String title;
  private final List<Part<T>> parts = new ArrayList<>();
  private int mostRead = Integer.MAX_VALUE;
  private Prose note = Prose.none();

  /** A table of that id and title. */
  public TableBuilder(String id, String title) {
    this.id = id;
    this.title = title;
  }

  /** Adds a column. */
  public TableBuilder<T> add(Column column, Function<? super T, ?> value) {
    return add(column, value, "none");
  }

  /** Adds a column whose value may be missing, for that reason. */
  public TableBuilder<T> add(Column column, Function<? super T, ?> value, String missing) {
    return live(column, value, missing, item -> Optional.empty());
  }

  /** Adds a column whose numbers follow from other cells of their row. */
  public TableBuilder<T> live(Column column, Function<? super T, ?> value, Formula formula) {
    return live(column, value, "none", item -> Optional.of(formula));
  }

  /** Adds a column whose numbers may follow from other cells. */
  public TableBuilder<T> live(
      Column column, Function<? super T, ?> value, Function<? super T, Optional<Formula>> formula) {
    return live(column, value, "none", formula);
  }

  /** Adds a column whose numbers may be missing, and may follow from other cells. */
  public TableBuilder<T> live(
      Column column,
      Function<? super T, ?> value,
      String missing,
      Function<? super T, Optional<Formula>> formula) {
    parts.add(new Part<>(column, value, missing, formula));
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
      rows.add(new Row(parts.stream().map(part -> part.of(item)).toList()));
    }
    Role role = rows.size() > mostRead ? Role.EVIDENCE : Role.READ;
    List<Column> columns = parts.stream().map(Part::column).toList();
    return new Table(id, title, role, columns, rows, note);
  }

  private static Cell cell(Object value, String missing) {
    if (value instanceof Cell cell) {
      return cell;
    }
    if (value instanceof String words) {
      return Cell.text(words);
    }
    if (value instanceof Number number) {
      return Cell.number(number.doubleValue());
    }
    if (value instanceof OptionalDouble number) {
      return number.isPresent() ? Cell.number(number.getAsDouble()) : Cell.missing(missing);
    }
    if (value instanceof OptionalInt number) {
      return number.isPresent() ? Cell.number(number.getAsInt()) : Cell.missing(missing);
    }
    if (value instanceof Optional<?> optional) {
      return optional.isPresent() ? cell(optional.get(), missing) : Cell.missing(missing);
    }
    throw new IllegalArgumentException("no cell can hold " + value);
  }
}
