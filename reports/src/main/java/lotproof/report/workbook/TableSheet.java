package lotproof.report.workbook;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import lotproof.report.model.Cell;
import lotproof.report.model.Sheet;
import lotproof.report.model.Table;
import lotproof.report.model.Table.Column;
import lotproof.report.text.PlainText;
import lotproof.report.text.TextLayout;
import lotproof.report.workbook.Cells.Role;
import lotproof.report.workbook.Layout.Spot;
import org.apache.poi.ss.usermodel.Row;
import org.apache.poi.ss.util.CellRangeAddress;
import org.apache.poi.xssf.streaming.SXSSFSheet;

/** The tables of a sheet, written from top to bottom so that a streaming sheet can take them. */
final class TableSheet {
  private static final int NARROWEST = 8;
  private static final int WIDEST = 46;
  private static final int NARROW = 14;
  private static final int ROWS_MEASURED = 2000;
  private static final int NOTE_CHARACTERS = 98;
  private static final double BOLD = 1.15;

  /** Rows between charts; areas of paper that touch would be one. */
  private static final int CHART_GAP = 2;

  private static final float ROW_POINTS = 15;

  /** Below 70 % the 10 points of the workbook's font would be less than 7 on paper. */
  private static final int SMALLEST_PERCENT = 70;

  private static final double LONG_PAGE_POINTS = 730;
  private static final double SHORT_PAGE_POINTS = 480;

  /** What titles and headings beside charts are higher than rows. */
  private static final double HEAD_POINTS = 110;

  private final Sheet content;
  private final Cells cells;
  private final Layout layout;
  private final List<Spot> spots;
  private final int[] widths;

  TableSheet(Sheet content, Cells cells, Layout layout) {
    this.content = content;
    this.cells = cells;
    this.layout = layout;
    this.spots = content.tables().stream().map(table -> layout.spot(table.id())).toList();
    this.widths = widths(spots);
  }

  String name() {
    return content.name();
  }

  /** First column right of the tables, where charts begin. */
  int chartColumn() {
    return widths.length + 1;
  }

  /**
   * First row of a chart. None covers headings that are printed on every page: they would carry a
   * strip of it along.
   */
  int chartTop(int chart) {
    int repeated = spots.get(spots.size() - 1).headRow();
    int top = spots.get(0).row(0);
    for (int c = 0; ; c++) {
      if (top <= repeated && repeated < top + NativeChart.ROWS) {
        top = repeated + 1;
      }
      if (c == chart) {
        return top;
      }
      top += NativeChart.ROWS + CHART_GAP;
    }
  }

  /** Fills an empty sheet, sets widths of columns, what stays in sight, and how it is printed. */
  void fill(SXSSFSheet sheet) {
    for (int c = 0; c < widths.length; c++) {
      Cells.width(sheet, c, widths[c]);
    }
    // what stands beside a chart must not move it
    sheet.setDefaultRowHeightInPoints(ROW_POINTS);
    if (!content.charts().isEmpty()) {
      for (int c = 0; c < NativeChart.COLUMNS; c++) {
        Cells.width(sheet, chartColumn() + c, NARROWEST);
      }
    }
    print(sheet);
    keepHeading(sheet);
    for (Spot spot : spots) {
      fillTable(sheet, spot);
    }
  }

  /** As large as the paper allows; what is too wide for it goes on to the next page. */
  private void print(SXSSFSheet sheet) {
    int columns = printed(spots);
    int total =
        Math.max(
            Arrays.stream(widths).limit(columns).sum() + 2 * columns,
            content.charts().isEmpty() ? 0 : NativeChart.COLUMNS * (NARROWEST + 2));
    int upright = (int) (100 * Cells.lineCharacters(false) / total);
    boolean landscape = upright < SMALLEST_PERCENT;
    int percent = landscape ? (int) (100 * Cells.lineCharacters(true) / total) : upright;
    percent = Math.max(SMALLEST_PERCENT, Math.min(100, percent));
    Cells.setPrint(sheet, content.name() + ": " + content.tables().get(0).title(), landscape);
    sheet.getPrintSetup().setScale((short) percent);
    double page = landscape ? SHORT_PAGE_POINTS : LONG_PAGE_POINTS;
    double points = page * 100 / percent - HEAD_POINTS;
    int perPage = Math.max(1, (int) (points / ROW_POINTS) / (NativeChart.ROWS + CHART_GAP));
    int last = spots.get(spots.size() - 1).lastRow();
    List<CellRangeAddress> areas = new ArrayList<>();
    areas.add(new CellRangeAddress(0, last, 0, columns - 1));
    if (content.charts().isEmpty() && 100 * Cells.lineCharacters(true) / total < SMALLEST_PERCENT) {
      sheet.setRepeatingColumns(new CellRangeAddress(-1, -1, 0, 0));
    }
    for (int first = 0; first < content.charts().size(); first += perPage) {
      int end = Math.min(first + perPage, content.charts().size());
      int right = chartColumn() + NativeChart.COLUMNS - 1;
      int bottom = chartTop(end - 1) + NativeChart.ROWS - 1;
      areas.add(new CellRangeAddress(chartTop(first), bottom, chartColumn(), right));
    }
    var workbook = sheet.getWorkbook();
    workbook.setPrintArea(
        workbook.getSheetIndex(sheet),
        // without the signs of fixed cells it would not hold
        areas.stream().map(a -> a.formatAsString(null, true)).collect(Collectors.joining(",")));
  }

  /** Columns on paper. */
  private static int printed(List<Spot> spots) {
    return spots.stream()
            .flatMapToInt(
                spot ->
                    IntStream.range(0, spot.table().columns().size())
                        .filter(c -> spot.table().columns().get(c).use() != Column.Use.BESIDE))
            .max()
            .orElseThrow()
        + 1;
  }

  /** What stays in sight of a single table, can be filtered, and is printed on every page. */
  private void keepHeading(SXSSFSheet sheet) {
    Spot last = spots.get(spots.size() - 1);
    int head = last.headRow();
    boolean single = spots.size() == 1;
    sheet.createFreezePane(1, single ? head + 1 : 1);
    sheet.setRepeatingRows(new CellRangeAddress(head, head, -1, -1));
    if (single) {
      int columns = last.table().columns().size();
      sheet.setAutoFilter(new CellRangeAddress(head, last.lastRow(), 0, columns - 1));
    }
  }

  private void fillTable(SXSSFSheet sheet, Spot spot) {
    Table table = spot.table();
    cells.title(sheet.createRow(spot.headRow() - Layout.ROWS_ABOVE_HEAD), table.title());
    String rows = table.rows().size() == 1 ? "1 row" : table.rows().size() + " rows";
    String note = table.note().isEmpty() ? rows : PlainText.of(table.note());
    fillNote(sheet.createRow(spot.headRow() - 1), note, table.columns().size());
    fillHeading(sheet.createRow(spot.headRow()), spot);
    for (int r = 0; r < table.rows().size(); r++) {
      fillRow(sheet.createRow(spot.row(r)), spot, r);
    }
    if (table.rows().isEmpty()) {
      cells.words(sheet.createRow(spot.row(0)), 0, "nothing to list", Role.MISSING);
    }
  }

  /** As wide as a line or the table, and as many lines as it then needs. */
  private void fillNote(Row row, String words, int columns) {
    int last = 0;
    int characters = widths[0];
    while (last < columns - 1 && characters < NOTE_CHARACTERS) {
      last++;
      characters += widths[last] + 2;
    }
    cells.words(row, 0, words, Role.NOTE);
    int at = row.getRowNum();
    if (last > 0) {
      row.getSheet().addMergedRegionUnsafe(new CellRangeAddress(at, at, 0, last));
    }
    Cells.fitHeight(row, words.length(), characters);
  }

  private void fillHeading(Row row, Spot spot) {
    int lines = 1;
    List<Column> columns = spot.table().columns();
    for (int c = 0; c < columns.size(); c++) {
      String heading = columns.get(c).heading();
      cells.words(row, c, heading, columns.get(c).kind().numeric() ? Role.NUMBER_HEAD : Role.HEAD);
      int room = (int) ((widths[c] + 1) / BOLD);
      lines = Math.max(lines, TextLayout.wrapped(heading, room).size());
    }
    row.setHeightInPoints(lines * Cells.LINE_POINTS + 3);
  }

  private void fillRow(Row row, Spot spot, int r) {
    int lines = 1;
    Table table = spot.table();
    for (int c = 0; c < table.columns().size(); c++) {
      Column column = table.columns().get(c);
      Cell cell = table.rows().get(r).cells().get(c);
      var target =
          cell instanceof Cell.Numeric number
              ? cells.number(row, c, number.value(), column.format(), role(cell, column))
              : cells.words(row, c, PlainText.of(cell, column), role(cell, column));
      cell.formula().ifPresent(f -> target.setCellFormula(layout.text(f, table.id(), r)));
      if (!(cell instanceof Cell.Numeric)) {
        int length = PlainText.of(cell, column).length();
        lines = Math.max(lines, (int) Math.ceil(length / ((widths[c] + 1) * 1.08)));
      }
    }
    row.setHeightInPoints(lines == 1 ? ROW_POINTS : Math.min(409, lines * Cells.LINE_POINTS));
  }

  private static Role role(Cell cell, Column column) {
    if (column.use() == Column.Use.INPUT) {
      return Role.INPUT;
    }
    if (cell.formula().isPresent()) {
      return Role.FORMULA;
    }
    return cell instanceof Cell.Text
        ? Role.TEXT
        : cell instanceof Cell.Numeric ? Role.CONSTANT : Role.MISSING;
  }

  /** Width of each column of the sheet in characters; words give way where paper is narrow. */
  private static int[] widths(List<Spot> spots) {
    int columns = spots.stream().mapToInt(s -> s.table().columns().size()).max().orElseThrow();
    int[] widths = new int[columns];
    int[] least = new int[columns];
    int button = spots.size() == 1 ? 3 : 1;
    for (Spot spot : spots) {
      for (int c = 0; c < spot.table().columns().size(); c++) {
        Column column = spot.table().columns().get(c);
        int at = c;
        int head = Math.max(NARROWEST, headWidth(column, button));
        int widest =
            spot.table().rows().stream()
                .limit(ROWS_MEASURED)
                .mapToInt(row -> widthOf(row.cells().get(at), column))
                .reduce(head, Math::max);
        widths[c] = Math.max(widths[c], Math.min(WIDEST, widest));
        int kept = column.kind().numeric() ? widths[c] : Math.max(head, Math.min(widest, NARROW));
        least[c] = Math.max(least[c], kept);
      }
    }
    int room = (int) (100 * Cells.lineCharacters(true) / SMALLEST_PERCENT);
    int printed = printed(spots);
    for (int c = 0; c < printed; c++) {
      int over = Arrays.stream(widths).limit(printed).sum() + 2 * printed - room;
      widths[c] -= Math.max(0, Math.min(over, widths[c] - least[c]));
    }
    return widths;
  }

  /** A heading may be broken between words, and leaves room for a filter's button. */
  private static int headWidth(Column column, int button) {
    int longest =
        Stream.of(column.heading().split(" ", -1)).mapToInt(String::length).max().orElse(0);
    return Math.min(longest + button, 24);
  }

  private static int widthOf(Cell cell, Column column) {
    int characters = PlainText.of(cell, column).length();
    if (cell instanceof Cell.Numeric) {
      return characters + 1;
    }
    return Math.min(cell instanceof Cell.Missing ? NARROWEST : WIDEST, characters + 1);
  }
}
