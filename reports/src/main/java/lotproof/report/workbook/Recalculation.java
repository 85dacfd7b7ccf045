package lotproof.report.workbook;

import java.util.ArrayList;
import java.util.DoubleSummaryStatistics;
import java.util.List;
import java.util.Optional;
import lotproof.report.model.Cell;
import lotproof.report.model.Formula;
import lotproof.report.model.Formula.Range;
import lotproof.report.model.Prose;
import lotproof.report.model.Table;
import lotproof.report.model.Table.Column;
import lotproof.report.model.Table.Role;

/**
 * Holds what the workbook computes against what the program computed: each computed cell of a short
 * table, and mean and extremes of each computed column of a long one.
 */
final class Recalculation {
  private final String id;
  private final int rowsSingly;
  private final FormulaText formulas;
  private final List<Table.Row> rows = new ArrayList<>();

  /**
   * A check without any row.
   *
   * @param id id of its table
   * @param rowsSingly tables with more rows are checked by columns
   * @param formulas how formulas are written
   */
  Recalculation(String id, int rowsSingly, FormulaText formulas) {
    this.id = id;
    this.rowsSingly = rowsSingly;
    this.formulas = formulas;
  }

  void add(Table table) {
    for (int c = 0; c < table.columns().size(); c++) {
      if (table.rows().size() > rowsSingly) {
        addColumn(table, c);
      } else {
        addCells(table, c);
      }
    }
  }

  private void addCells(Table table, int c) {
    Column column = table.columns().get(c);
    for (int r = 0; r < table.rows().size(); r++) {
      if (table.rows().get(r).cells().get(c) instanceof Cell.Computed computed) {
        add(
            table,
            "row " + (r + 1),
            column,
            computed.value(),
            Formula.of("{}", Range.cell(table.tableId(), column.key(), r)),
            formulas.of(computed.formula(), table.tableId(), r));
      }
    }
  }

  private void addColumn(Table table, int c) {
    Column column = table.columns().get(c);
    List<Cell> cells = table.rows().stream().map(row -> row.cells().get(c)).toList();
    for (int r = 0; r < cells.size(); r++) {
      if (cells.get(r) instanceof Cell.Computed computed) {
        String first = formulas.of(computed.formula(), table.tableId(), r);
        Range all = Range.column(table.tableId(), column.key());
        DoubleSummaryStatistics program =
            cells.stream().flatMapToDouble(cell -> cell.number().stream()).summaryStatistics();
        add(
            table,
            "mean of all rows",
            column,
            program.getAverage(),
            Formula.of("AVERAGE({})", all),
            first);
        add(
            table,
            "smallest of all rows",
            column,
            program.getMin(),
            Formula.of("MIN({})", all),
            first);
        add(
            table,
            "largest of all rows",
            column,
            program.getMax(),
            Formula.of("MAX({})", all),
            first);
        return;
      }
    }
  }

  private void add(
      Table table, String where, Column column, double program, Formula again, String formula) {
    rows.add(
        Table.Row.of(
            Cell.text(table.title()),
            Cell.text(column.title()),
            Cell.text(where),
            Cell.number(program),
            Cell.computed(program, again),
            Cell.computed(0, Formula.of("{}-{}", "workbook", "program")),
            Cell.text(formula)));
  }

  /** The check; empty when nothing is computed. */
  Optional<Table> table() {
    return rows.isEmpty()
        ? Optional.empty()
        : Optional.of(
            new Table(
                id,
                "Does the workbook compute what the program computed?",
                Role.EVIDENCE,
                List.of(
                    Column.text("table", "Table"),
                    Column.text("column", "Column"),
                    Column.text("row", "Row"),
                    Column.significant("program", "Program", "", 12),
                    Column.significant("workbook", "Workbook", "", 12),
                    Column.significant("difference", "Difference", "", 2),
                    Column.text("formula", "Formula, the first of several")),
                rows,
                Prose.of(
                    "The program's values are numbers; the workbook's are live. Tables of more than"
                        + " {} rows are held by their columns.",
                    Integer.toString(rowsSingly))));
  }
}
