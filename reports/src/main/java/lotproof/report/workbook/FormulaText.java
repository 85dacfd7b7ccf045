package lotproof.report.workbook;

import java.util.List;
import java.util.Locale;
import java.util.stream.Collectors;
import lotproof.report.model.Formula;
import lotproof.report.text.NumberText;

/** Formulas of the report as a spreadsheet writes them. */
final class FormulaText {
  private static final int STEP_DECIMALS = 9;

  private final Layout layout;

  FormulaText(Layout layout) {
    this.layout = layout;
  }

  /** The formula without its equals sign. */
  String of(Formula formula) {
    if (formula instanceof Formula.Constant constant) {
      return number(constant.value());
    }
    if (formula instanceof Formula.CellOf cell) {
      return layout.cell(cell.table(), cell.column(), cell.row());
    }
    if (formula instanceof Formula.ColumnSummary summary) {
      return functionOf(summary.summary())
          + "("
          + Layout.columnName(summary.table(), summary.column())
          + ")";
    }
    if (formula instanceof Formula.Join join) {
      return "(" + of(join.left()) + signOf(join.operator()) + of(join.right()) + ")";
    }
    if (formula instanceof Formula.Apply apply) {
      return functionOf(apply.function()) + "(" + of(apply.value()) + ")";
    }
    if (formula instanceof Formula.LargestOf largest) {
      return call("MAX", largest.values());
    }
    if (formula instanceof Formula.SmallestOf smallest) {
      return call("MIN", smallest.values());
    }
    if (formula instanceof Formula.FurthestOf furthest) {
      String largest = call("MAX", furthest.values());
      String smallest = call("MIN", furthest.values());
      return "IF(" + largest + ">=-" + smallest + "," + largest + "," + smallest + ")";
    }
    if (formula instanceof Formula.RowsSummary rows) {
      return rows.rows().stream()
          .map(stretch -> layout.rows(rows.table(), rows.column(), stretch))
          .collect(Collectors.joining(",", functionOf(rows.summary()) + "(", ")"));
    }
    if (formula instanceof Formula.Slope slope) {
      return "SLOPE("
          + layout.rows(slope.table(), slope.vertical(), slope.rows())
          + ","
          + layout.rows(slope.table(), slope.horizontal(), slope.rows())
          + ")";
    }
    if (formula instanceof Formula.Above above) {
      return "IF("
          + of(above.value())
          + ">"
          + of(above.threshold())
          + ","
          + of(above.above())
          + ","
          + of(above.otherwise())
          + ")";
    }
    if (formula instanceof Formula.RoundOutward rounded) {
      String step = number(rounded.step());
      return String.format(
          Locale.ROOT,
          "ROUNDUP(ROUND(%s/%s,%d),0)*%s",
          of(rounded.value()),
          step,
          STEP_DECIMALS,
          step);
    }
    throw new IllegalArgumentException("unknown formula " + formula);
  }

  private String call(String function, List<Formula> values) {
    return values.stream().map(this::of).collect(Collectors.joining(",", function + "(", ")"));
  }

  private static String number(double value) {
    String text = NumberText.exact(value);
    return value < 0 ? "(" + text + ")" : text;
  }

  private static String signOf(Formula.Operator operator) {
    return switch (operator) {
      case PLUS -> "+";
      case MINUS -> "-";
      case TIMES -> "*";
      case OVER -> "/";
      case TO_THE -> "^";
    };
  }

  private static String functionOf(Formula.Function function) {
    return switch (function) {
      case ABSOLUTE -> "ABS";
      case SQUARE_ROOT -> "SQRT";
      case EXPONENTIAL -> "EXP";
      case NORMAL_BELOW -> "NORMSDIST";
    };
  }

  private static String functionOf(Formula.Summary summary) {
    return switch (summary) {
      case MEAN -> "AVERAGE";
      case STANDARD_DEVIATION -> "STDEV";
      case LARGEST -> "MAX";
      case SMALLEST -> "MIN";
      case SUM -> "SUM";
      case SUM_OF_SQUARES -> "SUMSQ";
      case COUNT -> "COUNT";
    };
  }
}
