package lotproof.report.workbook;

import java.util.Arrays;
import java.util.List;
import lotproof.report.model.Cell;
import lotproof.report.model.FormulaValue;
import lotproof.report.model.Table;
import lotproof.report.model.Table.Column;
import lotproof.report.model.Table.ColumnKind;
import lotproof.report.text.NumberText;
import lotproof.report.text.OutsideText;
import lotproof.report.text.ProseText;
import lotproof.report.workbook.Styles.Role;
import org.apache.poi.ss.usermodel.Row;
import org.apache.poi.ss.usermodel.Sheet;
import org.apache.poi.ss.util.CellRangeAddress;

/** One table on one sheet. */
final class TableSheet {
  private static final int NARROWEST = 9;
  private static final int WIDEST = 46;
  private static final int ROWS_MEASURED = 300;
  private static final int PORTRAIT_CHARACTERS = 95;

  private final Styles styles;
  private final Cells cells;
  private final FormulaText formulas;

  TableSheet(Styles styles, FormulaText formulas) {
    this.styles = styles;
    this.cells = new Cells(styles);
    this.formulas = formulas;
  }

  /** Fills an empty sheet from top to bottom, so that a streaming sheet can take it. */
  void fill(Sheet sheet, Table table) {
    int[] widths = setWidths(sheet, table);
    int total = Arrays.stream(widths).sum() + 2 * widths.length;
    cells.words(sheet.createRow(0), 0, table.title(), Role.TITLE);
    String note = table.note().isEmpty() ? rowsInWords(table) : ProseText.of(table.note());
    cells.words(sheet.createRow(1), 0, note, Role.SUBTITLE);
    sheet.createRow(2);
    fillHeading(sheet.createRow(Layout.HEAD_ROW), table.columns(), widths);
    for (int r = 0; r < table.rows().size(); r++) {
      fillRow(sheet.createRow(Layout.HEAD_ROW + 1 + r), table, table.rows().get(r), widths);
    }
    if (table.rows().isEmpty()) {
      cells.words(sheet.createRow(Layout.HEAD_ROW + 1), 0, "nothing to list", Role.MISSING);
    }
    int last = Layout.HEAD_ROW + Math.max(1, table.rows().size());
    boolean named = !table.columns().get(0).kind().numeric();
    sheet.createFreezePane(named ? 1 : 0, Layout.HEAD_ROW + 1);
    sheet.setAutoFilter(new CellRangeAddress(Layout.HEAD_ROW, last, 0, table.columns().size() - 1));
    setPrint(sheet, table.title(), total > PORTRAIT_CHARACTERS);
    sheet.setRepeatingRows(new CellRangeAddress(Layout.HEAD_ROW, Layout.HEAD_ROW, -1, -1));
  }

  /** One page wide, numbered, and named at the top of each page. */
  static void setPrint(Sheet sheet, String title, boolean landscape) {
    sheet.setFitToPage(true);
    sheet.getPrintSetup().setFitWidth((short) 1);
    sheet.getPrintSetup().setFitHeight((short) 0);
    sheet.getPrintSetup().setLandscape(landscape);
    // an ampersand starts a command in a page header
    sheet.getHeader().setLeft(OutsideText.shortened(title, 80).replace("&", "&&"));
    sheet.getFooter().setRight("&P / &N");
  }

  private static String rowsInWords(Table table) {
    return table.rows().size() == 1 ? "1 row" : table.rows().size() + " rows";
  }

  private void fillHeading(Row row, List<Column> columns, int[] widths) {
    int lines = 1;
    for (int c = 0; c < columns.size(); c++) {
      Column column = columns.get(c);
      String heading = heading(column);
      cells.words(row, c, heading, column.kind().numeric() ? Role.NUMBER_HEAD : Role.HEAD);
      lines = Math.max(lines, (int) Math.ceil(heading.length() * 1.15 / widths[c]));
    }
    row.setHeightInPoints(lines * 13.5f + 3);
  }

  private void fillRow(Row row, Table table, Table.Row content, int[] widths) {
    int lines = 1;
    for (int c = 0; c < table.columns().size(); c++) {
      Column column = table.columns().get(c);
      Cell cell = content.cells().get(c);
      if (cell instanceof Cell.Text text) {
        cells.words(row, c, text.text(), Role.TEXT);
        lines = Math.max(lines, linesOf(text.text(), widths[c]));
      } else if (cell instanceof Cell.Missing missing) {
        cells.words(row, c, missing.reason(), Role.MISSING);
        lines = Math.max(lines, linesOf(missing.reason(), widths[c]));
      } else {
        fillNumber(row.createCell(c), cell, column);
      }
    }
    if (lines > 1) {
      row.setHeightInPoints(Math.min(409, lines * 13.5f));
    }
  }

  private void fillNumber(org.apache.poi.ss.usermodel.Cell target, Cell cell, Column column) {
    double value = FormulaValue.numberIn(cell).orElseThrow();
    if (cell instanceof Cell.Computed computed) {
      target.setCellFormula(formulas.of(computed.formula()));
    }
    target.setCellValue(value);
    target.setCellStyle(styles.number(value, column.style().orElseThrow()));
  }

  private static int linesOf(String text, int width) {
    return (int) Math.ceil(text.length() / ((width + 1) * 1.08));
  }

  private static int[] setWidths(Sheet sheet, Table table) {
    int[] widths = new int[table.columns().size()];
    for (int c = 0; c < table.columns().size(); c++) {
      int width = Math.max(NARROWEST, headWidth(table.columns().get(c)));
      int column = c;
      int content =
          table.rows().stream()
              .limit(ROWS_MEASURED)
              .mapToInt(row -> textOf(row.cells().get(column), table.columns().get(column)))
              .max()
              .orElse(0);
      width = Math.min(WIDEST, Math.max(width, content));
      Cells.width(sheet, c, width);
      widths[c] = width;
    }
    return widths;
  }

  /** A heading may be broken between words, and leaves room for the filter's button. */
  private static int headWidth(Column column) {
    int longest = 0;
    for (String word : heading(column).split(" ", -1)) {
      longest = Math.max(longest, word.length());
    }
    return Math.min(longest + 3, 24);
  }

  private static int textOf(Cell cell, Column column) {
    if (cell instanceof Cell.Text text) {
      return text.text().length() + (column.kind() == ColumnKind.SERIAL ? 1 : 0);
    }
    if (cell instanceof Cell.Missing missing) {
      return Math.min(18, missing.reason().length());
    }
    return NumberText.of(FormulaValue.numberIn(cell).orElseThrow(), column.style().orElseThrow())
            .length()
        + 2;
  }

  private static String heading(Column column) {
    return column.unit().isEmpty() ? column.title() : column.title() + " [" + column.unit() + "]";
  }
}
