package lotproof.report.workbook;

import static lotproof.report.model.Format.TEXT;
import static lotproof.report.model.Format.significant;

import java.util.ArrayList;
import java.util.DoubleSummaryStatistics;
import java.util.List;
import java.util.Optional;
import lotproof.report.model.Cell;
import lotproof.report.model.Formula;
import lotproof.report.model.Formula.Range;
import lotproof.report.model.Table;
import lotproof.report.model.Table.Column;
import lotproof.report.model.TableBuilder;

/**
 * Holds what the workbook computes against what the program computed: each computed cell of a short
 * table, and mean and extremes of each computed column of a long one.
 */
final class Recalculation {
  private static final String ID = "recalculation";

  /** Longer tables are checked by columns. */
  private static final int ROWS_SINGLY = 60;

  private final Layout layout;
  private final List<Line> lines = new ArrayList<>();

  /** What is held against the program's value: a formula, and the one behind it in words. */
  private record Line(
      Table table, Column column, String where, double program, Formula again, String formula) {}

  private Recalculation(Layout layout) {
    this.layout = layout;
  }

  /** The check of some tables; without a row when nothing is computed. */
  static Table of(List<Table> tables, Layout layout) {
    Recalculation check = new Recalculation(layout);
    for (Table table : tables) {
      for (Column column : table.columns()) {
        check.add(table, column);
      }
    }
    return new TableBuilder<Line>(ID, "Does the workbook compute what the program computed?")
        .evidence()
        .note(
            "The program's values are numbers; the workbook's are live. Tables of more than {}"
                + " rows are held by their columns.",
            Integer.toString(ROWS_SINGLY))
        .add("Table", TEXT, line -> line.table().title())
        .add("Column", TEXT, line -> line.column().title())
        .add("Row", TEXT, Line::where)
        .add("Program", significant(12), Line::program)
        .add("Workbook", significant(12), Line::program)
        .live(line -> Optional.of(line.again()))
        .add("Difference", significant(2), line -> 0)
        .live(row -> Formula.of("{}-{}", "workbook", "program"))
        .add("Formula, the first of several", TEXT, Line::formula)
        .of(check.lines);
  }

  private void add(Table table, Column column) {
    int c = table.columnIndex(column.key());
    List<Cell> cells = table.rows().stream().map(row -> row.cells().get(c)).toList();
    boolean singly = cells.size() <= ROWS_SINGLY;
    for (int r = 0; r < cells.size(); r++) {
      if (cells.get(r) instanceof Cell.Numeric computed && computed.formula().isPresent()) {
        String formula = layout.text(computed.formula().orElseThrow(), table.id(), r);
        if (!singly) {
          addColumn(table, column, cells, formula);
          return;
        }
        Formula again = Formula.of("{}", Range.cell(table.id(), column.key(), r));
        lines.add(new Line(table, column, "row " + (r + 1), computed.value(), again, formula));
      }
    }
  }

  private void addColumn(Table table, Column column, List<Cell> cells, String formula) {
    DoubleSummaryStatistics program =
        cells.stream().flatMapToDouble(cell -> cell.number().stream()).summaryStatistics();
    addSummary(table, column, "AVERAGE", program.getAverage(), formula);
    addSummary(table, column, "MIN", program.getMin(), formula);
    addSummary(table, column, "MAX", program.getMax(), formula);
  }

  private void addSummary(
      Table table, Column column, String function, double program, String formula) {
    Formula again = Formula.of(function + "({})", Range.column(table.id(), column.key()));
    lines.add(new Line(table, column, function + " of all rows", program, again, formula));
  }
}
