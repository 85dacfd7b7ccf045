package lotproof.report.workbook;

import java.util.Arrays;
import java.util.List;
import java.util.stream.Stream;
import lotproof.report.model.Cell;
import lotproof.report.model.Chart;
import lotproof.report.model.ExplanationTree;
import lotproof.report.model.Table;
import lotproof.report.model.Table.Column;
import lotproof.report.text.PlainText;
import lotproof.report.text.TextLayout;
import lotproof.report.workbook.Cells.Role;
import lotproof.report.workbook.Layout.Spot;
import org.apache.poi.ss.usermodel.Row;
import org.apache.poi.ss.usermodel.Sheet;
import org.apache.poi.ss.usermodel.Workbook;
import org.apache.poi.ss.util.CellRangeAddress;
import org.apache.poi.xssf.streaming.SXSSFSheet;

/**
 * Words and tables on a sheet, written from top to bottom so that a streaming sheet can take them.
 */
final class TableSheet {
  private static final int NARROWEST = 9;
  private static final int WIDEST = 46;
  private static final int ROWS_MEASURED = 300;
  private static final int PORTRAIT_CHARACTERS = 95;
  private static final int NOTE_CHARACTERS = 98;
  private static final double BOLD = 1.15;
  private static final int DEEPEST_OUTLINE = 7;

  /** Width of the columns below charts in characters, and what brings them onto a page. */
  private static final int CHART_COLUMN_CHARACTERS = 9;

  private static final short CHART_PERCENT = 66;
  private static final int CHARTS_ON_A_PAGE = 2;
  private static final float CHART_ROW_POINTS = 15;

  private final Cells cells;
  private final Layout layout;

  TableSheet(Cells cells, Layout layout) {
    this.cells = cells;
    this.layout = layout;
  }

  /** Fills an empty sheet, sets widths of columns, what stays in sight, and how it is printed. */
  void fill(SXSSFSheet sheet, SheetPlan.Page page) {
    int[] widths = widths(page.spots());
    for (int c = 0; c < widths.length; c++) {
      if (widths[c] > 0) {
        Cells.width(sheet, c, widths[c]);
      }
    }
    int total = Arrays.stream(widths).sum() + 2 * widths.length;
    Cells.setPrint(sheet, page.title(), !page.ofCharts() && total > PORTRAIT_CHARACTERS);
    if (page.ofCharts()) {
      printCharts(sheet, page.items().size());
      fillSideBySide(sheet, page, widths);
      return;
    }
    if (page.items().size() == 1 && page.spots().size() == 1) {
      keepHeading(sheet, page.spots().get(0));
    }
    if (page.items().get(0).top() > 0) {
      cells.title(sheet.createRow(0), page.title());
    }
    sheet.setRowSumsBelow(false);
    for (SheetPlan.Item item : page.items()) {
      if (item.spot().isPresent()) {
        fillTable(sheet, item, item.spot().get(), widths);
      } else {
        fillWide(sheet.createRow(item.top()), PlainText.of(item.block()), Role.TEXT, 0, widths);
      }
    }
  }

  private void fillTable(SXSSFSheet sheet, SheetPlan.Item item, Spot spot, int[] widths) {
    Table table = spot.table();
    cells.title(sheet.createRow(item.top()), table.title());
    String rows = table.rows().size() == 1 ? "1 row" : table.rows().size() + " rows";
    String note = table.note().isEmpty() ? rows : PlainText.of(table.note());
    Row noteRow = sheet.createRow(item.top() + 1);
    fillWide(noteRow, note, Role.NOTE, table.columns().size() - 1, widths);
    fillHeading(sheet.createRow(spot.headRow()), spot, widths);
    for (int r = 0; r < Math.max(1, table.rows().size()); r++) {
      Row row = sheet.createRow(spot.row(r));
      fillRow(row, List.of(spot), r, widths);
      if (item.block() instanceof ExplanationTree tree) {
        int depth = tree.steps().get(r).depth();
        row.getCell(0).setCellStyle(cells.indented(depth));
        sheet.setRowOutlineLevel(row.getRowNum(), Math.min(depth, DEEPEST_OUTLINE));
      }
    }
  }

  /** A table alone on its sheet keeps its heading in sight, can be filtered, and is printed so. */
  private static void keepHeading(Sheet sheet, Spot spot) {
    List<Column> columns = spot.table().columns();
    int head = spot.headRow();
    sheet.createFreezePane(columns.get(0).kind().numeric() ? 0 : 1, head + 1);
    sheet.setAutoFilter(new CellRangeAddress(head, spot.lastRow(), 0, columns.size() - 1));
    sheet.setRepeatingRows(new CellRangeAddress(head, head, -1, -1));
  }

  /** Words may be as wide as their table, and take as many lines as they then need. */
  private void fillWide(Row row, String words, Role role, int lastColumn, int[] widths) {
    int last = 0;
    int characters = widths[0];
    while (last < lastColumn || characters < NOTE_CHARACTERS) {
      last++;
      characters += (last < widths.length ? widths[last] : NARROWEST) + 2;
    }
    cells.words(row, 0, words, role);
    if (words.length() > widths[0]) {
      int at = row.getRowNum();
      if (last > 0) {
        row.getSheet().addMergedRegionUnsafe(new CellRangeAddress(at, at, 0, last));
      }
      Cells.fitHeight(row, words.length(), characters);
    }
  }

  /** Room for charts is left to the left of the numbers. */
  private void fillSideBySide(Sheet sheet, SheetPlan.Page page, int[] widths) {
    List<Spot> spots = page.spots();
    cells.title(sheet.createRow(0), page.title());
    Row titles = sheet.createRow(spots.get(0).headRow() - 1);
    Row heading = sheet.createRow(spots.get(0).headRow());
    int last = 0;
    for (SheetPlan.Item item : page.items()) {
      Spot spot = item.spot().orElseThrow();
      String answer = ((Chart) item.block()).caption().answer();
      cells.words(titles, spot.firstColumn(), spot.table().title() + " " + answer, Role.SUBTITLE);
      fillHeading(heading, spot, widths);
      last = Math.max(last, spot.lastRow());
    }
    for (int at = spots.get(0).row(0); at <= last; at++) {
      Row row = sheet.createRow(at);
      fillRow(row, spots, at - spots.get(0).row(0), widths);
      // charts must not grow with the words beside them
      row.setHeightInPoints(CHART_ROW_POINTS);
    }
  }

  /** On paper two charts share a page, and their numbers stay in the workbook. */
  private static void printCharts(Sheet sheet, int charts) {
    for (int c = 0; c < SheetPlan.CHART_COLUMNS; c++) {
      Cells.width(sheet, c, CHART_COLUMN_CHARACTERS);
    }
    sheet.setDefaultRowHeightInPoints(CHART_ROW_POINTS);
    Workbook workbook = sheet.getWorkbook();
    int last = SheetPlan.chartTop(charts) - 1;
    workbook.setPrintArea(workbook.getSheetIndex(sheet), 0, SheetPlan.CHART_COLUMNS - 1, 0, last);
    // breaks are kept only where the page is not fitted
    sheet.setFitToPage(false);
    sheet.getPrintSetup().setScale(CHART_PERCENT);
    for (int c = CHARTS_ON_A_PAGE; c < charts; c += CHARTS_ON_A_PAGE) {
      sheet.setRowBreak(SheetPlan.chartTop(c) - 2);
    }
  }

  private void fillHeading(Row row, Spot spot, int[] widths) {
    int lines = 1;
    List<Column> columns = spot.table().columns();
    for (int c = 0; c < columns.size(); c++) {
      String heading = columns.get(c).heading();
      int at = spot.column(c);
      cells.words(row, at, heading, columns.get(c).kind().numeric() ? Role.NUMBER_HEAD : Role.HEAD);
      int room = (int) ((widths[at] + 1) / BOLD);
      lines = Math.max(lines, TextLayout.wrapped(heading, room).size());
    }
    row.setHeightInPoints(Math.max(row.getHeightInPoints(), lines * Cells.LINE_POINTS + 3));
  }

  /** The same row of each table that has it. */
  private void fillRow(Row row, List<Spot> spots, int r, int[] widths) {
    int lines = 1;
    for (Spot spot : spots) {
      Table table = spot.table();
      for (int c = 0; c < table.columns().size() && r < table.rows().size(); c++) {
        Cell cell = table.rows().get(r).cells().get(c);
        Column column = table.columns().get(c);
        int at = spot.column(c);
        if (cell instanceof Cell.Numeric number) {
          var target = cells.number(row, at, number.value(), column.format());
          number.formula().ifPresent(f -> target.setCellFormula(layout.text(f, table.id(), r)));
        } else {
          String words = PlainText.of(cell, column);
          cells.words(row, at, words, cell instanceof Cell.Text ? Role.TEXT : Role.MISSING);
          lines = Math.max(lines, (int) Math.ceil(words.length() / ((widths[at] + 1) * 1.08)));
        }
      }
      if (table.rows().isEmpty() && r == 0) {
        cells.words(row, spot.column(0), "nothing to list", Role.MISSING);
      }
    }
    if (lines > 1) {
      row.setHeightInPoints(Math.min(409, lines * Cells.LINE_POINTS));
    }
  }

  /** Width of each column of the sheet in characters; 0 where no table has one. */
  private static int[] widths(List<Spot> spots) {
    int[] widths =
        new int[spots.stream().mapToInt(s -> s.column(s.table().columns().size())).max().orElse(1)];
    widths[0] = spots.isEmpty() ? NOTE_CHARACTERS : 0;
    for (Spot spot : spots) {
      List<Column> columns = spot.table().columns();
      for (int c = 0; c < columns.size(); c++) {
        int widest = Math.max(NARROWEST, headWidth(columns.get(c)));
        for (Table.Row row : spot.table().rows().stream().limit(ROWS_MEASURED).toList()) {
          widest = Math.max(widest, widthOf(row.cells().get(c), columns.get(c)));
        }
        int at = spot.column(c);
        widths[at] = Math.max(widths[at], Math.min(WIDEST, widest));
      }
    }
    return widths;
  }

  /** A heading may be broken between words, and leaves room for the filter's button. */
  private static int headWidth(Column column) {
    int longest =
        Stream.of(column.heading().split(" ", -1)).mapToInt(String::length).max().orElse(0);
    return Math.min(longest + 3, 24);
  }

  private static int widthOf(Cell cell, Column column) {
    int characters = PlainText.of(cell, column).length();
    return cell instanceof Cell.Missing ? Math.min(18, characters) : characters + 2;
  }
}
