package lotproof.app.files;

import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import java.util.Set;
import lotproof.folder.ReceivedFile;
import lotproof.gather.tables.Cell;
import lotproof.gather.tables.Fact;
import lotproof.gather.tables.Grid;
import lotproof.gather.tables.Mapping;
import lotproof.gather.tables.Row;
import lotproof.gather.tables.Setting;
import lotproof.study.DataIssue;
import org.apache.poi.hssf.usermodel.HSSFRichTextString;
import org.apache.poi.ss.usermodel.CellStyle;
import org.apache.poi.ss.usermodel.CellType;
import org.apache.poi.ss.usermodel.DataFormatter;
import org.apache.poi.ss.usermodel.Date1904Support;
import org.apache.poi.ss.usermodel.DateUtil;
import org.apache.poi.ss.usermodel.FormulaError;
import org.apache.poi.ss.usermodel.RichTextString;
import org.apache.poi.ss.usermodel.Sheet;
import org.apache.poi.ss.usermodel.Workbook;
import org.apache.poi.ss.util.CellReference;
import org.apache.poi.xssf.usermodel.XSSFCell;
import org.apache.poi.xssf.usermodel.XSSFFont;
import org.apache.poi.xssf.usermodel.XSSFRichTextString;

/** Takes the cells of one sheet, without what a person said to leave out. */
final class SheetReader {
  private static final String GENERAL = "General";

  private final ReceivedFile file;
  private final Sheet sheet;
  private final Mapping mapping;
  private final boolean countsFrom1904;
  private final DataFormatter formatter = new DataFormatter(Locale.ROOT);
  private final List<Row> rows = new ArrayList<>();
  private final List<DataIssue> issues = new ArrayList<>();

  /** Hidden columns stand before the other parts. */
  private final List<Grid.Concealed> concealed = new ArrayList<>();

  private final Set<Integer> hiddenColumns = new HashSet<>();
  private boolean filled;

  SheetReader(ReceivedFile file, Sheet sheet, Mapping mapping) {
    this.file = file;
    this.sheet = sheet;
    this.mapping = mapping;
    this.countsFrom1904 = sheet.getWorkbook() instanceof Date1904Support d && d.isDate1904();
    sheet.forEach(this::read);
  }

  String name() {
    return Objects.requireNonNullElse(sheet.getSheetName(), "without name");
  }

  /** Whether it holds anything, left out or not. */
  boolean isFilled() {
    return filled;
  }

  Grid grid() {
    Workbook workbook = sheet.getWorkbook();
    int index = workbook.getSheetIndex(sheet);
    List<Fact> facts = new ArrayList<>(List.of(new Fact("format", "workbook")));
    addFact(facts, Setting.HIDDEN, "hidden rows, columns and cells");
    addFact(facts, Setting.STRUCK, "values struck through");
    return new Grid(
        name(),
        facts,
        '\0',
        Grid.Rows.of(rows),
        issues,
        workbook.isSheetHidden(index) || workbook.isSheetVeryHidden(index),
        concealed);
  }

  private void addFact(List<Fact> facts, Setting setting, String what) {
    long parts = concealed.stream().filter(c -> c.setting() == setting).count();
    if (parts > 0 && mapping.setting(setting).isPresent()) {
      facts.add(
          new Fact(what, parts + (leaves(setting) ? " left out, as told" : " taken, as told")));
    }
  }

  private boolean leaves(Setting setting) {
    return mapping.setting(setting).filter("leave"::equals).isPresent();
  }

  private void read(org.apache.poi.ss.usermodel.Row row) {
    // a height of zero comes to the same
    boolean hidden = row.getZeroHeight() || row.getHeight() == 0;
    boolean left = hidden && leaves(Setting.HIDDEN);
    boolean holds = false;
    List<Cell> cells = new ArrayList<>();
    for (org.apache.poi.ss.usermodel.Cell cell : row) {
      while (cells.size() < cell.getColumnIndex()) {
        cells.add(new Cell.Blank());
      }
      String problem = problem(cell);
      Cell content = problem.isEmpty() ? content(cell) : new Cell.Unusable();
      boolean blank = content instanceof Cell.Blank;
      cells.add(blank ? content : taken(cell, content, left ? "" : problem));
      holds |= !blank;
    }
    filled |= holds;
    if (holds && hidden) {
      conceal(Setting.HIDDEN, row.getRowNum() + 1, -1, "row " + (row.getRowNum() + 1));
    }
    Row done = new Row(row.getRowNum() + 1, cells);
    if (!left && !done.isBlank()) {
      rows.add(done);
    }
  }

  private void conceal(Setting setting, int row, int column, String place) {
    concealed.add(new Grid.Concealed(setting, row, column, place));
  }

  /** What of a cell that holds something is taken. */
  private Cell taken(org.apache.poi.ss.usermodel.Cell cell, Cell content, String problem) {
    int row = cell.getRowIndex() + 1;
    int column = cell.getColumnIndex();
    String letters = CellReference.convertNumToColString(column);
    boolean hiddenColumn = sheet.isColumnHidden(column) || sheet.getColumnWidth(column) == 0;
    if (hiddenColumn && hiddenColumns.add(column)) {
      concealed.add(
          hiddenColumns.size() - 1,
          new Grid.Concealed(Setting.HIDDEN, 0, column, "column " + letters));
    }
    boolean shown = !format(cell).matches(";{2,3}");
    if (!shown) {
      conceal(Setting.HIDDEN, row, column, "cell " + letters + row);
    }
    boolean struck = isStruck(cell);
    if (struck) {
      conceal(Setting.STRUCK, row, column, "cell " + letters + row);
    }
    if ((hiddenColumn || !shown) && leaves(Setting.HIDDEN)) {
      return new Cell.Blank();
    } else if (struck && leaves(Setting.STRUCK)) {
      return new Cell.LeftOut();
    } else if (!problem.isEmpty()) {
      String message = "cell " + letters + row + " " + problem;
      issues.add(
          DataIssue.error(
              DataIssue.Code.VALUE_INVALID, file.name(), row, "column " + letters, "", message));
    }
    return content;
  }

  private static String format(org.apache.poi.ss.usermodel.Cell cell) {
    CellStyle style = cell.getCellStyle();
    String format = style == null ? GENERAL : style.getDataFormatString();
    return format == null ? GENERAL : format;
  }

  /** Whether a cell or its text is struck through, in whole or in part. */
  private boolean isStruck(org.apache.poi.ss.usermodel.Cell cell) {
    Workbook workbook = sheet.getWorkbook();
    CellStyle style = cell.getCellStyle();
    if (style != null && workbook.getFontAt(style.getFontIndex()).getStrikeout()) {
      return true;
    }
    boolean struck = false;
    if (cell.getCellType() == CellType.STRING) {
      RichTextString text = cell.getRichStringCellValue();
      for (int run = 0; run < text.numFormattingRuns(); run++) {
        if (text instanceof HSSFRichTextString old) {
          struck |= workbook.getFontAt(old.getFontOfFormattingRun(run)).getStrikeout();
        } else if (text instanceof XSSFRichTextString rich) {
          XSSFFont font = rich.getFontOfFormattingRun(run);
          struck |= font != null && font.getStrikeout();
        }
      }
    }
    return struck;
  }

  /** Why a cell holds no data; empty where it does. */
  private static String problem(org.apache.poi.ss.usermodel.Cell cell) {
    return switch (cell.getCellType()) {
      case FORMULA ->
          "holds a formula"
              + stored(cell)
              + "; a calculated value is no reading: give the value itself";
      case BOOLEAN -> "holds the truth value " + (cell.getBooleanCellValue() ? "TRUE" : "FALSE");
      case ERROR -> "holds the error " + FormulaError.forInt(cell.getErrorCellValue()).getString();
      default -> "";
    };
  }

  /** The number beside a formula, if there is one. */
  private static String stored(org.apache.poi.ss.usermodel.Cell cell) {
    boolean text = cell.getCachedFormulaResultType() == CellType.STRING;
    String value = cell instanceof XSSFCell xlsx && !text ? xlsx.getRawValue() : null;
    return value == null || value.isEmpty() ? "" : " (stored value " + value + ")";
  }

  private Cell content(org.apache.poi.ss.usermodel.Cell cell) {
    return switch (cell.getCellType()) {
      case NUMERIC -> number(cell, cell.getNumericCellValue());
      case STRING -> Cell.of(cell.getStringCellValue());
      default -> new Cell.Blank();
    };
  }

  /** A number, or the date that its format makes of it. */
  private Cell number(org.apache.poi.ss.usermodel.Cell cell, double value) {
    CellStyle style = cell.getCellStyle();
    int index = style == null ? 0 : style.getDataFormat();
    String format = format(cell);
    // Below 1 there is a time of day without a date.
    if (DateUtil.isADateFormat(index, format) && value >= 1 && DateUtil.isValidExcelDate(value)) {
      return new Cell.DateTime(DateUtil.getLocalDateTime(value, countsFrom1904, true));
    }
    BigDecimal shortest = new BigDecimal(Double.toString(value)).stripTrailingZeros();
    String shown =
        GENERAL.equals(format)
            ? shortest.toPlainString()
            : formatter.formatRawCellContents(value, index, format, countsFrom1904);
    return new Cell.Numeric(shortest, shown);
  }
}
