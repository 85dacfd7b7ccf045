package lotproof.report.model;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.function.Predicate;
import java.util.stream.Collectors;
import java.util.stream.IntStream;

/**
 * How a number follows from other cells of the report's tables, in the words of a spreadsheet: the
 * part of a calculation that a reader of the workbook can follow and change. Everything but the
 * workbook shows the value that stands beside it.
 *
 * @param pattern a spreadsheet's expression with {@code {}} for each part
 * @param parts what stands there: a number, the key of a column (of the cell in that column of the
 *     same row), a {@link Range} or another formula
 */
public record Formula(String pattern, List<Object> parts) {
  private static final String SLOT = "{}";

  public Formula {
    parts = List.copyOf(parts);
    int slots = pattern.split("\\{}", -1).length - 1;
    if (slots != parts.size()) {
      throw new IllegalArgumentException(parts.size() + " parts for " + pattern);
    }
  }

  /** A formula of these parts. */
  public static Formula of(String pattern, Object... parts) {
    return new Formula(pattern, List.of(parts));
  }

  /** A function of any number of parts, such as MAX. */
  public static Formula call(String function, List<?> parts) {
    return new Formula(
        parts.stream().map(part -> SLOT).collect(Collectors.joining(",", function + "(", ")")),
        List.copyOf(parts));
  }

  /**
   * The part that is furthest from zero, with its sign; the positive one of two that are as far.
   */
  public static Formula furthest(List<?> parts) {
    Formula largest = call("MAX", parts);
    Formula smallest = call("MIN", parts);
    return of("IF({}>=-{},{},{})", largest, smallest, largest, smallest);
  }

  /**
   * Rounded away from zero to a whole number of steps, as figures are. The number of steps is first
   * rounded to 9 decimals, so that a value that is whole but for the last bits stays.
   */
  public static Formula roundedOutward(Object part, Object step) {
    return of("ROUNDUP(ROUND({}/{},9),0)*{}", part, step, step);
  }

  /** Words of our own. */
  public static Formula words(String words) {
    return of('"' + words.replace("\"", "\"\"") + '"');
  }

  /**
   * Cells of a column of a table.
   *
   * @param table id of the table
   * @param column key of the column
   * @param rows which rows; the whole column where none is named
   */
  public record Range(String table, String column, List<Rows> rows) {
    public Range {
      rows = List.copyOf(rows);
    }

    /** A whole column. */
    public static Range column(String table, String column) {
      return new Range(table, column, List.of());
    }

    /** One cell; the row is counted from 0. */
    public static Range cell(String table, String column, int row) {
      return new Range(table, column, List.of(new Rows(row, row)));
    }
  }

  /**
   * Rows that follow one another.
   *
   * @param first first row, counted from 0
   * @param last last row, at least {@code first}
   */
  public record Rows(int first, int last) {
    public Rows {
      if (!(0 <= first && first <= last)) {
        throw new IllegalArgumentException(
            String.format(Locale.ROOT, "rows are counted from 0: %d to %d", first, last));
      }
    }

    /** The rows at these ascending positions, neighbours together. */
    public static List<Rows> of(int... positions) {
      List<Rows> rows = new ArrayList<>();
      for (int position : positions) {
        int end = rows.size() - 1;
        if (end >= 0 && rows.get(end).last() + 1 == position) {
          rows.set(end, new Rows(rows.get(end).first(), position));
        } else {
          rows.add(new Rows(position, position));
        }
      }
      return rows;
    }

    /** The rows of the items that some test finds. */
    public static <T> List<Rows> where(List<T> items, Predicate<T> test) {
      return of(IntStream.range(0, items.size()).filter(i -> test.test(items.get(i))).toArray());
    }
  }
}
