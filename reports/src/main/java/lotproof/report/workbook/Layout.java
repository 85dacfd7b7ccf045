package lotproof.report.workbook;

import java.util.HashMap;
import java.util.Iterator;
import java.util.List;
import java.util.Map;
import java.util.stream.Collectors;
import lotproof.report.model.Formula;
import lotproof.report.model.Sheet;
import lotproof.report.model.Table;
import lotproof.report.text.PlainText;
import org.apache.poi.ss.util.CellReference;
import org.apache.poi.ss.util.WorkbookUtil;

/** Where every table stands in the workbook, and formulas that point there. */
final class Layout {
  /** Title and note come before the headings of a table. */
  static final int ROWS_ABOVE_HEAD = 2;

  private static final int GAP_ROWS = 2;

  private final Map<String, Spot> spots = new HashMap<>();

  /**
   * The place of a table.
   *
   * @param table what stands there
   * @param sheet name of its sheet
   * @param headRow row of its headings, counted from 0; its first column is that of the sheet
   */
  record Spot(Table table, String sheet, int headRow) {
    int row(int row) {
      return headRow + 1 + row;
    }

    /** Row of the last cells; a table without rows takes one for saying so. */
    int lastRow() {
      return headRow + Math.max(1, table.rows().size());
    }

    private String reference(String column, int row) {
      int c = table.columnIndex(column);
      return new CellReference(row, c, true, true).formatAsString();
    }
  }

  /** Where the tables of a workbook stand, under one another on their sheets. */
  static Layout of(List<Sheet> sheets) {
    Layout layout = new Layout();
    for (Sheet sheet : sheets) {
      int top = 0;
      for (Table table : sheet.tables()) {
        Spot spot = new Spot(table, sheet.name(), top + ROWS_ABOVE_HEAD);
        layout.spots.put(table.id(), spot);
        top = spot.lastRow() + 1 + GAP_ROWS;
      }
    }
    return layout;
  }

  Spot spot(String table) {
    Spot spot = spots.get(table);
    if (spot == null) {
      throw new IllegalArgumentException("no table " + table + " in this workbook");
    }
    return spot;
  }

  /** Reference to all cells of a column below its heading. */
  String column(String table, String column) {
    Spot spot = spot(table);
    return inSheet(spot.sheet())
        + spot.reference(column, spot.row(0))
        + ":"
        + spot.reference(column, spot.lastRow());
  }

  /** Name by which formulas call a column. */
  static String columnName(String table, String column) {
    return table.replace('-', '_') + "." + column.replace('-', '_');
  }

  /** A sheet's name as formulas write it. */
  static String inSheet(String sheet) {
    return "'" + WorkbookUtil.createSafeSheetName(sheet).replace("'", "''") + "'!";
  }

  /**
   * A formula without its equals sign.
   *
   * @param table id of the table that it stands in
   * @param row its row there, counted from 0
   */
  String text(Formula formula, String table, int row) {
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
      return "(" + text(formula, table, row) + ")";
    }
    if (part instanceof Formula.Range range) {
      return range.rows().isEmpty()
          ? columnName(range.table(), range.column())
          : range.rows().stream()
              .map(rows -> rows(range.table(), range.column(), rows))
              .collect(Collectors.joining(","));
    }
    if (part instanceof String column) {
      return rows(table, column, new Formula.Rows(row, row));
    }
    double number = ((Number) part).doubleValue();
    return number < 0 ? "(" + PlainText.exact(number) + ")" : PlainText.exact(number);
  }

  /** Reference to some rows of a column; a single row is a single cell. */
  private String rows(String table, String column, Formula.Rows rows) {
    Spot spot = spot(table);
    String first = spot.reference(column, spot.row(rows.first()));
    String last = spot.reference(column, spot.row(rows.last()));
    return inSheet(spot.sheet()) + (first.equals(last) ? first : first + ":" + last);
  }
}
