package lotproof.report.model;

import java.math.BigDecimal;
import java.math.RoundingMode;
import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;
import java.util.stream.IntStream;
import org.apache.commons.statistics.distribution.NormalDistribution;

/**
 * Computes formulas from a report's tables, so that the program's value and the formula that a
 * workbook shows can be held against each other.
 */
public final class FormulaValue {
  private static final int STEP_DECIMALS = 9;
  private static final NormalDistribution STANDARD_NORMAL = NormalDistribution.of(0, 1);

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
    if (formula instanceof Formula.SmallestOf smallest) {
      return smallest.values().stream().mapToDouble(this::of).min().orElseThrow();
    }
    if (formula instanceof Formula.FurthestOf furthest) {
      return furthestFromZero(furthest.values().stream().mapToDouble(this::of).toArray());
    }
    if (formula instanceof Formula.RowsSummary rows) {
      return summary(rows.summary(), numbers(rows), rows);
    }
    if (formula instanceof Formula.Slope slope) {
      return slope(slope);
    }
    if (formula instanceof Formula.Above above) {
      return of(above.value()) > of(above.threshold()) ? of(above.above()) : of(above.otherwise());
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
    return numberIn(cell(table, cell.row(), column))
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
    return summary(summary.summary(), values, summary);
  }

  private static double summary(Formula.Summary summary, double[] values, Formula of) {
    if (values.length == 0 && summary != Formula.Summary.COUNT) {
      throw new IllegalArgumentException("no numbers for " + of);
    }
    return switch (summary) {
      case MEAN -> mean(values);
      case STANDARD_DEVIATION -> standardDeviation(values);
      case LARGEST -> Arrays.stream(values).max().orElseThrow();
      case SMALLEST -> Arrays.stream(values).min().orElseThrow();
      case SUM -> Arrays.stream(values).sum();
      case SUM_OF_SQUARES -> Arrays.stream(values).map(v -> v * v).sum();
      case COUNT -> values.length;
    };
  }

  private double[] numbers(Formula.RowsSummary summary) {
    Table table = table(summary.table());
    int column = table.columnIndex(summary.column());
    return summary.rows().stream()
        .flatMapToInt(rows -> IntStream.rangeClosed(rows.first(), rows.last()))
        .mapToObj(row -> numberIn(cell(table, row, column)))
        .flatMapToDouble(OptionalDouble::stream)
        .toArray();
  }

  private static Cell cell(Table table, int row, int column) {
    if (row >= table.rows().size()) {
      throw new IllegalArgumentException(
          "table " + table.tableId() + " has no row " + row + " (counted from 0)");
    }
    return table.rows().get(row).cells().get(column);
  }

  private double slope(Formula.Slope slope) {
    double[] y = column(slope.table(), slope.vertical(), slope.rows());
    double[] x = column(slope.table(), slope.horizontal(), slope.rows());
    double meanX = mean(x);
    double meanY = mean(y);
    double squares = 0;
    double products = 0;
    for (int i = 0; i < x.length; i++) {
      squares += (x[i] - meanX) * (x[i] - meanX);
      products += (x[i] - meanX) * (y[i] - meanY);
    }
    return products / squares;
  }

  private double[] column(String table, String column, Formula.Rows rows) {
    return IntStream.rangeClosed(rows.first(), rows.last())
        .mapToDouble(row -> cellValue(new Formula.CellOf(table, column, row)))
        .toArray();
  }

  private static double furthestFromZero(double[] values) {
    double largest = Arrays.stream(values).max().orElseThrow();
    double smallest = Arrays.stream(values).min().orElseThrow();
    return largest >= -smallest ? largest : smallest;
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
      case TO_THE -> Math.pow(left, right);
    };
  }

  private static double applied(Formula.Function function, double value) {
    return switch (function) {
      case ABSOLUTE -> Math.abs(value);
      case SQUARE_ROOT -> Math.sqrt(value);
      case EXPONENTIAL -> Math.exp(value);
      case NORMAL_BELOW -> STANDARD_NORMAL.cumulativeProbability(value);
    };
  }
}
