package lotproof.report.model;

import java.util.ArrayList;
import java.util.List;

/**
 * How a number follows from other cells of the report's tables: the part of a calculation that a
 * reader of the workbook can follow and change. {@link FormulaValue} computes it; the workbook
 * writes it as a live formula.
 */
public sealed interface Formula {

  /**
   * A number of its own.
   *
   * @param value finite
   */
  record Constant(double value) implements Formula {
    public Constant {
      Check.finite(value, "constant");
    }
  }

  /**
   * One cell.
   *
   * @param table id of the table
   * @param column key of the column
   * @param row row counted from 0
   */
  record CellOf(String table, String column, int row) implements Formula {
    public CellOf {
      if (row < 0) {
        throw new IllegalArgumentException("row is counted from 0, was " + row);
      }
    }
  }

  /** What is made of the numbers of a column; missing cells are passed over. */
  enum Summary {
    /** Arithmetic mean. */
    MEAN,
    /** Standard deviation with n - 1. */
    STANDARD_DEVIATION,
    /** Largest. */
    LARGEST,
    /** Smallest. */
    SMALLEST,
    /** Sum. */
    SUM,
    /** Sum of squares. */
    SUM_OF_SQUARES,
    /** How many. */
    COUNT
  }

  /**
   * A summary of a whole column.
   *
   * @param summary which
   * @param table id of the table
   * @param column key of the column
   */
  record ColumnSummary(Summary summary, String table, String column) implements Formula {}

  /**
   * Rows of a column that follow one another.
   *
   * @param first first row, counted from 0
   * @param last last row, at least {@code first}
   */
  record Rows(int first, int last) {
    public Rows {
      if (!(0 <= first && first <= last)) {
        throw new IllegalArgumentException(
            "rows are counted from 0 to the last, were " + first + " to " + last);
      }
    }

    /** The rows at these ascending positions, neighbours together. */
    public static List<Rows> of(List<Integer> positions) {
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
  }

  /**
   * A summary of some rows of a column.
   *
   * @param summary which
   * @param table id of the table
   * @param column key of the column
   * @param rows which rows, at least one stretch
   */
  record RowsSummary(Summary summary, String table, String column, List<Rows> rows)
      implements Formula {
    public RowsSummary {
      rows = List.copyOf(rows);
      if (rows.isEmpty()) {
        throw new IllegalArgumentException("a summary of no rows of " + table + "." + column);
      }
    }
  }

  /**
   * Slope of the least-squares line over some rows of two columns that all hold numbers.
   *
   * @param table id of the table
   * @param vertical key of the column that depends
   * @param horizontal key of the column that it depends on
   * @param rows which rows, at least two
   */
  record Slope(String table, String vertical, String horizontal, Rows rows) implements Formula {
    public Slope {
      if (rows.first() == rows.last()) {
        throw new IllegalArgumentException("a line needs two rows, was row " + rows.first());
      }
    }
  }

  /** Operators between two values. */
  enum Operator {
    PLUS,
    MINUS,
    TIMES,
    OVER,
    /** The first to the power of the second. */
    TO_THE
  }

  /**
   * Two values joined.
   *
   * @param operator how
   * @param left first value
   * @param right second value
   */
  record Join(Operator operator, Formula left, Formula right) implements Formula {}

  /** Functions of one value. */
  enum Function {
    /** Absolute value. */
    ABSOLUTE,
    /** Square root. */
    SQUARE_ROOT,
    /** Exponential function. */
    EXPONENTIAL,
    /** Probability of the standard normal distribution below the value. */
    NORMAL_BELOW
  }

  /**
   * A function of one value.
   *
   * @param function which
   * @param value of what
   */
  record Apply(Function function, Formula value) implements Formula {}

  /**
   * The largest of several values.
   *
   * @param values at least one
   */
  record LargestOf(List<Formula> values) implements Formula {
    public LargestOf {
      values = List.copyOf(values);
      if (values.isEmpty()) {
        throw new IllegalArgumentException("the largest of no values");
      }
    }
  }

  /**
   * The smallest of several values.
   *
   * @param values at least one
   */
  record SmallestOf(List<Formula> values) implements Formula {
    public SmallestOf {
      values = List.copyOf(values);
      if (values.isEmpty()) {
        throw new IllegalArgumentException("the smallest of no values");
      }
    }
  }

  /**
   * The one of several values that is furthest from zero, with its sign; the positive one of two
   * that are as far.
   *
   * @param values at least one
   */
  record FurthestOf(List<Formula> values) implements Formula {
    public FurthestOf {
      values = List.copyOf(values);
      if (values.isEmpty()) {
        throw new IllegalArgumentException("the furthest of no values");
      }
    }
  }

  /**
   * One value where another is above a threshold, and a third one where it is not.
   *
   * @param value what is compared
   * @param threshold with what
   * @param above counts where the value is larger
   * @param otherwise counts elsewhere
   */
  record Above(Formula value, Formula threshold, Formula above, Formula otherwise)
      implements Formula {}

  /**
   * Rounded away from zero to a whole number of steps, as figures are. The number of steps is first
   * rounded to 9 decimals, so that a value that is whole but for the last bits stays.
   *
   * @param value what is rounded
   * @param step the step, above 0
   */
  record RoundOutward(Formula value, double step) implements Formula {
    public RoundOutward {
      if (!(step > 0 && Double.isFinite(step))) {
        throw new IllegalArgumentException("step must be above 0 and finite, was " + step);
      }
    }
  }

  /** A number of its own. */
  static Formula constant(double value) {
    return new Constant(value);
  }

  /** One cell; the row is counted from 0. */
  static Formula cell(String table, String column, int row) {
    return new CellOf(table, column, row);
  }

  /** Mean of a column. */
  static Formula mean(String table, String column) {
    return new ColumnSummary(Summary.MEAN, table, column);
  }

  /** Standard deviation of a column, with n - 1. */
  static Formula standardDeviation(String table, String column) {
    return new ColumnSummary(Summary.STANDARD_DEVIATION, table, column);
  }

  /** Largest of a column. */
  static Formula largest(String table, String column) {
    return new ColumnSummary(Summary.LARGEST, table, column);
  }

  /** A summary of the rows at these ascending positions. */
  static Formula summary(Summary summary, String table, String column, List<Integer> positions) {
    return new RowsSummary(summary, table, column, Rows.of(positions));
  }

  /** This plus that. */
  default Formula plus(Formula other) {
    return new Join(Operator.PLUS, this, other);
  }

  /** This minus that. */
  default Formula minus(Formula other) {
    return new Join(Operator.MINUS, this, other);
  }

  /** This times that. */
  default Formula times(Formula other) {
    return new Join(Operator.TIMES, this, other);
  }

  /** This divided by that. */
  default Formula over(Formula other) {
    return new Join(Operator.OVER, this, other);
  }

  /** Absolute value of this. */
  default Formula absolute() {
    return new Apply(Function.ABSOLUTE, this);
  }

  /** Square root of this. */
  default Formula squareRoot() {
    return new Apply(Function.SQUARE_ROOT, this);
  }

  /** This rounded away from zero to a whole number of steps. */
  default Formula roundedOutward(double step) {
    return new RoundOutward(this, step);
  }

  /** This to the power of that. */
  default Formula toThe(Formula other) {
    return new Join(Operator.TO_THE, this, other);
  }
}
