package lotproof.report.model;

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

  /** Operators between two values. */
  enum Operator {
    PLUS,
    MINUS,
    TIMES,
    OVER
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
    EXPONENTIAL
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
}
