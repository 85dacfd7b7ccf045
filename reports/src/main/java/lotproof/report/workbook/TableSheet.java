package lotproof.report.workbook;

import java.util.Arrays;
import java.util.List;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import lotproof.report.model.Cell;
import lotproof.report.model.Formula;
import lotproof.report.model.Table;
import lotproof.report.model.Table.Column;
import lotproof.report.text.PlainText;
import lotproof.report.text.SanitizedText;
import lotproof.report.text.TextLayout;
import lotproof.report.workbook.Layout.Spot;
import lotproof.report.workbook.Styles.Role;
import org.apache.poi.ss.usermodel.Row;
import org.apache.poi.ss.usermodel.Sheet;
import org.apache.poi.ss.usermodel.Workbook;
import org.apache.poi.ss.util.CellRangeAddress;

/** Tables on a sheet, written from top to bottom so that a streaming sheet can take them. */
final class TableSheet {
  private static final int NARROWEST = 9;
  private static final int WIDEST = 46;
  private static final int ROWS_MEASURED = 300;
  private static final int PORTRAIT_CHARACTERS = 95;
  private static final int NOTE_CHARACTERS = 80;
  private static final float LINE_POINTS = 13.5f;
  private static final double BOLD = 1.15;

  /** Width of the columns below charts in characters, and what brings them onto a page. */
  private static final int CHART_COLUMN_CHARACTERS = 9;

  private static final short CHART_PERCENT = 66;
  private static final int CHARTS_ON_A_PAGE = 2;
  private static final float CHART_ROW_POINTS = 15;

  private final Styles styles;
  private final Cells cells;
  private final FormulaText formulas;

  TableSheet(Styles styles, FormulaText formulas) {
    this.styles = styles;
    this.cells = new Cells(styles);
    this.formulas = formulas;
  }

  /** Fills an empty sheet, sets widths of columns, what stays in sight, and how it is printed. */
  void fill(Sheet sheet, SheetPlan.Page page) {
    int[] widths = widths(page.spots());
    for (int c = 0; c < widths.length; c++) {
      if (widths[c] > 0) {
        Cells.width(sheet, c, widths[c]);
      }
    }
    int total = Arrays.stream(widths).sum() + 2 * widths.length;
    boolean charts = page.kind() == SheetPlan.Kind.CHARTS;
    setPrint(sheet, page.title(), !charts && total > PORTRAIT_CHARACTERS);
    if (charts) {
      printCharts(sheet, page.spots());
      fillSideBySide(sheet, page, widths);
      return;
    }
    if (page.spots().size() == 1) {
      keepHeading(sheet, page.spots().get(0));
    }
    for (Spot spot : page.spots()) {
      int top = spot.headRow() - SheetPlan.ROWS_ABOVE_HEAD;
      cells.title(sheet.createRow(top), spot.table().title());
      fillNote(sheet.createRow(top + 1), note(spot.table()), spot, widths);
      fillHeading(sheet.createRow(spot.headRow()), spot, widths);
      for (int r = 0; r < Math.max(1, spot.table().rows().size()); r++) {
        fillRow(sheet.createRow(spot.row(r)), List.of(spot), r, widths);
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

  /** A note may be as wide as its table, and takes as many lines as it then needs. */
  private void fillNote(Row row, String note, Spot spot, int[] widths) {
    int last = 0;
    int characters = widths[0];
    int columns = spot.table().columns().size();
    while (last + 1 < columns || characters < NOTE_CHARACTERS) {
      last++;
      characters += (last < widths.length ? widths[last] : NARROWEST) + 2;
    }
    cells.words(row, 0, note, Role.NOTE);
    if (note.length() > widths[0]) {
      row.getSheet()
          .addMergedRegionUnsafe(new CellRangeAddress(row.getRowNum(), row.getRowNum(), 0, last));
      Cells.fitHeight(row, note.length(), characters);
    }
  }

  /** Room for charts is left to the left of the numbers. */
  private void fillSideBySide(Sheet sheet, SheetPlan.Page page, int[] widths) {
    List<Spot> spots = page.spots();
    cells.title(sheet.createRow(0), page.title());
    Row titles = sheet.createRow(spots.get(0).headRow() - 1);
    Row heading = sheet.createRow(spots.get(0).headRow());
    int last = 0;
    for (Spot spot : spots) {
      cells.words(titles, spot.firstColumn(), spot.table().title(), Role.SUBTITLE);
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
  private static void printCharts(Sheet sheet, List<Spot> spots) {
    for (int c = 0; c < SheetPlan.CHART_COLUMNS; c++) {
      Cells.width(sheet, c, CHART_COLUMN_CHARACTERS);
    }
    sheet.setDefaultRowHeightInPoints(CHART_ROW_POINTS);
    Workbook workbook = sheet.getWorkbook();
    workbook.setPrintArea(
        workbook.getSheetIndex(sheet),
        0,
        SheetPlan.CHART_COLUMNS - 1,
        0,
        SheetPlan.chartTop(spots.size()) - 1);
    // breaks are kept only where the page is not fitted
    sheet.setFitToPage(false);
    sheet.getPrintSetup().setScale(CHART_PERCENT);
    for (int c = CHARTS_ON_A_PAGE; c < spots.size(); c += CHARTS_ON_A_PAGE) {
      sheet.setRowBreak(SheetPlan.chartTop(c) - 2);
    }
  }

  /** One page wide, numbered, and named at the top of each page. */
  static void setPrint(Sheet sheet, String title, boolean landscape) {
    sheet.setFitToPage(true);
    sheet.getPrintSetup().setFitWidth((short) 1);
    sheet.getPrintSetup().setFitHeight((short) 0);
    sheet.getPrintSetup().setLandscape(landscape);
    // an ampersand starts a command in a page header
    sheet.getHeader().setLeft(SanitizedText.shortened(title, 80).replace("&", "&&"));
    sheet.getFooter().setRight("&P / &N");
  }

  private static String note(Table table) {
    if (!table.note().isEmpty()) {
      return PlainText.of(table.note());
    }
    return table.rows().size() == 1 ? "1 row" : table.rows().size() + " rows";
  }

  private void fillHeading(Row row, Spot spot, int[] widths) {
    int lines = 1;
    List<Column> columns = spot.table().columns();
    for (int c = 0; c < columns.size(); c++) {
      Column column = columns.get(c);
      String heading = column.heading();
      int at = spot.column(c);
      cells.words(row, at, heading, column.kind().numeric() ? Role.NUMBER_HEAD : Role.HEAD);
      int room = (int) ((widths[at] + 1) / BOLD);
      lines = Math.max(lines, TextLayout.wrapped(heading, room).size());
    }
    row.setHeightInPoints(Math.max(row.getHeightInPoints(), lines * LINE_POINTS + 3));
  }

  /** The same row of each table that has it. */
  private void fillRow(Row row, List<Spot> spots, int r, int[] widths) {
    int lines = 1;
    for (Spot spot : spots) {
      List<Table.Row> rows = spot.table().rows();
      if (r < rows.size()) {
        lines = Math.max(lines, fillCells(row, spot, r, widths));
      } else if (rows.isEmpty() && r == 0) {
        cells.words(row, spot.column(0), "nothing to list", Role.MISSING);
      }
    }
    if (lines > 1) {
      row.setHeightInPoints(Math.min(409, lines * LINE_POINTS));
    }
  }

  private int fillCells(Row row, Spot spot, int r, int[] widths) {
    int lines = 1;
    for (int c = 0; c < spot.table().columns().size(); c++) {
      Cell cell = spot.table().rows().get(r).cells().get(c);
      int at = spot.column(c);
      if (cell.number().isEmpty()) {
        String words = PlainText.of(cell, spot.table().columns().get(c));
        cells.words(row, at, words, cell instanceof Cell.Text ? Role.TEXT : Role.MISSING);
        lines = Math.max(lines, linesOf(words, widths[at]));
      } else {
        var target = row.createCell(at);
        if (cell instanceof Cell.Numeric computed && computed.formula().isPresent()) {
          Formula formula = computed.formula().orElseThrow();
          target.setCellFormula(formulas.of(formula, spot.table().id(), r));
        }
        double value = cell.number().orElseThrow();
        target.setCellValue(value);
        target.setCellStyle(styles.number(value, spot.table().columns().get(c).format()));
      }
    }
    return lines;
  }

  private static int linesOf(String text, int width) {
    return (int) Math.ceil(text.length() / ((width + 1) * 1.08));
  }

  /** Width of each column of the sheet in characters; 0 where no table has one. */
  private static int[] widths(List<Spot> spots) {
    int[] widths =
        new int[spots.stream().mapToInt(s -> s.column(s.table().columns().size())).max().orElse(0)];
    for (Spot spot : spots) {
      for (int c = 0; c < spot.table().columns().size(); c++) {
        Column column = spot.table().columns().get(c);
        int index = c;
        IntStream content =
            spot.table().rows().stream()
                .limit(ROWS_MEASURED)
                .mapToInt(row -> widthOf(row.cells().get(index), column));
        int widest =
            IntStream.concat(IntStream.of(NARROWEST, headWidth(column)), content)
                .max()
                .orElseThrow();
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
