package lotproof.report.workbook;

import java.util.HashMap;
import java.util.Map;
import lotproof.report.model.Formula;
import lotproof.report.model.Table;
import org.apache.poi.ss.util.CellReference;
import org.apache.poi.ss.util.WorkbookUtil;

/** Where every table stands in the workbook, so that formulas can point there. */
final class Layout {
  /** Row of the headings, counted from 0: title, note and a blank row come first. */
  static final int HEAD_ROW = 3;

  private final Map<String, String> sheetByTable = new HashMap<>();
  private final Map<String, Table> tables = new HashMap<>();

  void place(Table table, String sheet) {
    sheetByTable.put(table.tableId(), sheet);
    tables.put(table.tableId(), table);
  }

  /** Name of the sheet that holds a table. */
  String sheetOf(String table) {
    String sheet = sheetByTable.get(table);
    if (sheet == null) {
      throw new IllegalArgumentException("no table " + table + " in this workbook");
    }
    return sheet;
  }

  /** Reference to a cell of a table. */
  String cell(String table, String column, int row) {
    int c = table(table).columnIndex(column);
    return inSheet(sheetOf(table))
        + new CellReference(HEAD_ROW + 1 + row, c, true, true).formatAsString();
  }

  /** Reference to all cells of a column below its heading. */
  String column(String table, String column) {
    int c = table(table).columnIndex(column);
    int last = HEAD_ROW + Math.max(1, table(table).rows().size());
    return inSheet(sheetOf(table))
        + new CellReference(HEAD_ROW + 1, c, true, true).formatAsString()
        + ":"
        + new CellReference(last, c, true, true).formatAsString();
  }

  /** Reference to some rows of a column; a single row is a single cell. */
  String rows(String table, String column, Formula.Rows rows) {
    int c = table(table).columnIndex(column);
    String first = new CellReference(HEAD_ROW + 1 + rows.first(), c, true, true).formatAsString();
    String last = new CellReference(HEAD_ROW + 1 + rows.last(), c, true, true).formatAsString();
    return inSheet(sheetOf(table)) + (first.equals(last) ? first : first + ":" + last);
  }

  /** Name by which formulas call a column. */
  static String columnName(String table, String column) {
    return table.replace('-', '_') + "." + column.replace('-', '_');
  }

  /** A sheet's name as formulas write it. */
  static String inSheet(String sheet) {
    return "'" + WorkbookUtil.createSafeSheetName(sheet).replace("'", "''") + "'!";
  }

  private Table table(String id) {
    Table table = tables.get(id);
    if (table == null) {
      throw new IllegalArgumentException("no table " + id + " in this workbook");
    }
    return table;
  }
}
