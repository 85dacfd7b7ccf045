package lotproof.report.model;

import java.math.BigDecimal;
import java.math.RoundingMode;
import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;

/**
 * Computes formulas from a report's tables, so that the program's value and the formula that a
 * workbook shows can be held against each other.
 */
public final class FormulaValue {
  private static final int STEP_DECIMALS = 9;

  private final Map<String, Table> tables = new HashMap<>();

  /** Formulas over these tables. */
  public FormulaValue(List<Table> tables) {
    tables.forEach(table -> this.tables.put(table.tableId(), table));
  }

  /**
   * Value of a formula.
   *
   * @throws IllegalArgumentException if it names a table, column or row that is not there or a cell
   *     that holds no number
   */
  public double of(Formula formula) {
    if (formula instanceof Formula.Constant constant) {
      return constant.value();
    }
    if (formula instanceof Formula.CellOf cell) {
      return cellValue(cell);
    }
    if (formula instanceof Formula.ColumnSummary summary) {
      return summaryValue(summary);
    }
    if (formula instanceof Formula.Join join) {
      return joined(join.operator(), of(join.left()), of(join.right()));
    }
    if (formula instanceof Formula.Apply apply) {
      return applied(apply.function(), of(apply.value()));
    }
    if (formula instanceof Formula.LargestOf largest) {
      return largest.values().stream().mapToDouble(this::of).max().orElseThrow();
    }
    if (formula instanceof Formula.RoundOutward rounded) {
      return roundOutward(of(rounded.value()), rounded.step());
    }
    throw new IllegalArgumentException("unknown formula " + formula);
  }

  /** Rounds away from zero to a whole number of steps; see {@link Formula.RoundOutward}. */
  public static double roundOutward(double value, double step) {
    double steps =
        BigDecimal.valueOf(Math.abs(value) / step)
            .setScale(STEP_DECIMALS, RoundingMode.HALF_UP)
            .setScale(0, RoundingMode.CEILING)
            .doubleValue();
    return Math.copySign(steps * step, value);
  }

  /** The number in a cell, if it holds one. */
  public static OptionalDouble numberIn(Cell cell) {
    if (cell instanceof Cell.Numeric number) {
      return OptionalDouble.of(number.value());
    }
    if (cell instanceof Cell.Computed computed) {
      return OptionalDouble.of(computed.value());
    }
    return OptionalDouble.empty();
  }

  private Table table(String id) {
    Table table = tables.get(id);
    if (table == null) {
      throw new IllegalArgumentException("formula names no table of the report: " + id);
    }
    return table;
  }

  private double cellValue(Formula.CellOf cell) {
    Table table = table(cell.table());
    int column = table.columnIndex(cell.column());
    if (cell.row() >= table.rows().size()) {
      throw new IllegalArgumentException(
          "table " + cell.table() + " has no row " + cell.row() + " (counted from 0)");
    }
    return numberIn(table.rows().get(cell.row()).cells().get(column))
        .orElseThrow(() -> new IllegalArgumentException("no number in " + cell));
  }

  private double summaryValue(Formula.ColumnSummary summary) {
    Table table = table(summary.table());
    int column = table.columnIndex(summary.column());
    double[] values =
        table.rows().stream()
            .map(row -> numberIn(row.cells().get(column)))
            .flatMapToDouble(OptionalDouble::stream)
            .toArray();
    if (values.length == 0 && summary.summary() != Formula.Summary.COUNT) {
      throw new IllegalArgumentException("no numbers for " + summary);
    }
    return switch (summary.summary()) {
      case MEAN -> mean(values);
      case STANDARD_DEVIATION -> standardDeviation(values);
      case LARGEST -> Arrays.stream(values).max().orElseThrow();
      case SMALLEST -> Arrays.stream(values).min().orElseThrow();
      case SUM -> Arrays.stream(values).sum();
      case COUNT -> values.length;
    };
  }

  private static double mean(double[] values) {
    return Arrays.stream(values).sum() / values.length;
  }

  private static double standardDeviation(double[] values) {
    double mean = mean(values);
    double squares = Arrays.stream(values).map(v -> (v - mean) * (v - mean)).sum();
    return Math.sqrt(squares / (values.length - 1));
  }

  private static double joined(Formula.Operator operator, double left, double right) {
    return switch (operator) {
      case PLUS -> left + right;
      case MINUS -> left - right;
      case TIMES -> left * right;
      case OVER -> left / right;
    };
  }

  private static double applied(Formula.Function function, double value) {
    return switch (function) {
      case ABSOLUTE -> Math.abs(value);
      case SQUARE_ROOT -> Math.sqrt(value);
      case EXPONENTIAL -> Math.exp(value);
    };
  }
}
