package lotproof.report.workbook;

import java.util.HashMap;
import java.util.Map;
import lotproof.report.model.Formula;
import lotproof.report.model.Table;
import org.apache.poi.ss.util.CellReference;
import org.apache.poi.ss.util.WorkbookUtil;

/** Where every table stands in the workbook, so that formulas can point there. */
final class Layout {
  private final Map<String, Spot> spots = new HashMap<>();

  /**
   * The place of a table.
   *
   * @param table what stands there
   * @param sheet name of its sheet
   * @param headRow row of its headings, counted from 0
   * @param firstColumn its first column, counted from 0
   */
  record Spot(Table table, String sheet, int headRow, int firstColumn) {
    int row(int row) {
      return headRow + 1 + row;
    }

    int column(int column) {
      return firstColumn + column;
    }

    /** Row of the last cells; a table without rows takes one for saying so. */
    int lastRow() {
      return headRow + Math.max(1, table.rows().size());
    }
  }

  void place(Spot spot) {
    spots.put(spot.table().id(), spot);
  }

  /** Where a table stands. */
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
        + reference(spot, column, spot.row(0))
        + ":"
        + reference(spot, column, spot.lastRow());
  }

  /** Reference to some rows of a column; a single row is a single cell. */
  String rows(String table, String column, Formula.Rows rows) {
    Spot spot = spot(table);
    String first = reference(spot, column, spot.row(rows.first()));
    String last = reference(spot, column, spot.row(rows.last()));
    return inSheet(spot.sheet()) + (first.equals(last) ? first : first + ":" + last);
  }

  private static String reference(Spot spot, String column, int row) {
    int c = spot.column(spot.table().columnIndex(column));
    return new CellReference(row, c, true, true).formatAsString();
  }

  /** Name by which formulas call a column. */
  static String columnName(String table, String column) {
    return table.replace('-', '_') + "." + column.replace('-', '_');
  }

  /** A sheet's name as formulas write it. */
  static String inSheet(String sheet) {
    return "'" + WorkbookUtil.createSafeSheetName(sheet).replace("'", "''") + "'!";
  }
}
