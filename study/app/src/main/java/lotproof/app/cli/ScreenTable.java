package lotproof.app.cli;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.Function;
import lotproof.report.model.Cell;
import lotproof.report.model.Prose;
import lotproof.report.model.Table;
import lotproof.report.model.Table.Column;
import lotproof.report.model.Table.Row;
import org.jspecify.annotations.Nullable;

/**
 * A table for a terminal: one row for each thing, and columns that each say what they show of it. A
 * value may be a number, words, or an optional, whose absence is shown as a dash.
 *
 * @param <T> what a row is about
 */
public final class ScreenTable<T> {
  private static final Cell NONE = Cell.missing("-");

  private final String title;
  private final List<T> rows;
  private final List<Column> columns = new ArrayList<>();
  private final List<Function<T, ? extends @Nullable Object>> values = new ArrayList<>();
  private String note = "";

  private ScreenTable(String title, List<T> rows) {
    this.title = title;
    this.rows = List.copyOf(rows);
  }

  public static <T> ScreenTable<T> of(String title, List<T> rows) {
    return new ScreenTable<>(title, rows);
  }

  /** Words. */
  public ScreenTable<T> text(String heading, Function<T, ?> value) {
    return column(Column.text(key(), heading), value);
  }

  /** Serials and names, which are never cut. */
  public ScreenTable<T> serial(String heading, Function<T, ?> value) {
    return column(Column.serial(key(), heading), value);
  }

  /** Whole numbers. */
  public ScreenTable<T> count(String heading, Function<T, ?> value) {
    return column(Column.count(key(), heading), value);
  }

  /** Numbers with fixed decimals. */
  public ScreenTable<T> decimal(String heading, String unit, int digits, Function<T, ?> value) {
    return column(Column.decimal(key(), heading, unit, digits), value);
  }

  /** Numbers with significant digits. */
  public ScreenTable<T> significant(String heading, String unit, int digits, Function<T, ?> value) {
    return column(Column.significant(key(), heading, unit, digits), value);
  }

  /** Fractions in 0..1, shown in per cent. */
  public ScreenTable<T> fraction(String heading, int digits, Function<T, ?> value) {
    return column(Column.fraction(key(), heading, digits), value);
  }

  /** What a reader must know about it. */
  public ScreenTable<T> note(String text) {
    note = text;
    return this;
  }

  private String key() {
    return "c" + columns.size();
  }

  private ScreenTable<T> column(Column column, Function<T, ?> value) {
    columns.add(column);
    values.add(value);
    return this;
  }

  boolean isEmpty() {
    return rows.isEmpty();
  }

  Table table() {
    return new Table(
        "screen",
        title,
        Table.Role.READ,
        columns,
        rows.stream()
            .map(row -> new Row(values.stream().map(v -> cell(v.apply(row))).toList()))
            .toList(),
        note.isEmpty() ? Prose.none() : Prose.text(note));
  }

  private static Cell cell(@Nullable Object value) {
    if (value instanceof Optional<?> optional) {
      return optional.map(ScreenTable::cell).orElse(NONE);
    }
    if (value instanceof OptionalDouble optional) {
      return optional.isPresent() ? Cell.number(optional.getAsDouble()) : NONE;
    }
    return value instanceof Number number
        ? Cell.number(number.doubleValue())
        : Cell.text(String.valueOf(value));
  }
}
