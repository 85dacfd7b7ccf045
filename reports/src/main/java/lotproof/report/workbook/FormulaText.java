package lotproof.report.workbook;

import java.util.Iterator;
import java.util.stream.Collectors;
import lotproof.report.model.Formula;
import lotproof.report.text.PlainText;

/** Formulas of the report as a spreadsheet writes them. */
final class FormulaText {
  private final Layout layout;

  FormulaText(Layout layout) {
    this.layout = layout;
  }

  /**
   * The formula without its equals sign.
   *
   * @param table id of the table that it stands in
   * @param row its row there, counted from 0
   */
  String of(Formula formula, String table, int row) {
    StringBuilder text = new StringBuilder();
    Iterator<Object> parts = formula.parts().iterator();
    int from = 0;
    for (int at = formula.pattern().indexOf("{}"); at >= 0; ) {
      text.append(formula.pattern(), from, at).append(part(parts.next(), table, row));
      from = at + 2;
      at = formula.pattern().indexOf("{}", from);
    }
    return text.append(formula.pattern().substring(from)).toString();
  }

  private String part(Object part, String table, int row) {
    if (part instanceof Formula formula) {
      return "(" + of(formula, table, row) + ")";
    }
    if (part instanceof Formula.Range range) {
      return range.rows().isEmpty()
          ? Layout.columnName(range.table(), range.column())
          : range.rows().stream()
              .map(rows -> layout.rows(range.table(), range.column(), rows))
              .collect(Collectors.joining(","));
    }
    if (part instanceof String column) {
      return layout.rows(table, column, new Formula.Rows(row, row));
    }
    double number = ((Number) part).doubleValue();
    return number < 0 ? "(" + PlainText.exact(number) + ")" : PlainText.exact(number);
  }
}
