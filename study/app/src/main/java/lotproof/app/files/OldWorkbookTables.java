package lotproof.app.files;

import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import lotproof.folder.ReceivedFile;
import lotproof.gather.tables.Cell;
import lotproof.gather.tables.Grid;
import lotproof.gather.tables.Mapping;
import lotproof.gather.tables.Row;
import lotproof.gather.tables.TableReader;
import lotproof.study.DataIssue;
import lotproof.study.DataIssue.Code;
import lotproof.study.Result;
import org.apache.poi.hssf.usermodel.HSSFRichTextString;
import org.apache.poi.hssf.usermodel.HSSFWorkbook;
import org.apache.poi.ss.usermodel.CellType;
import org.apache.poi.ss.usermodel.DataFormatter;
import org.apache.poi.ss.usermodel.FormulaError;
import org.apache.poi.ss.usermodel.Sheet;

/**
 * Reads .xls workbooks as tables, by the same rules as .xlsx ones: a formula is no data, whatever
 * value is stored beside it.
 */
public final class OldWorkbookTables implements TableReader {
  private static final String SIGNATURE = "d0cf11e0a1b11ae1";
  private static final int LARGEST_BYTES = 32 << 20;

  @Override
  public boolean accepts(ReceivedFile file) {
    return file.firstBytes(8).equals(SIGNATURE);
  }

  @Override
  public Result<List<Grid>> open(ReceivedFile file, Mapping mapping) {
    try {
      return SheetGrids.of(file, sheets(file), mapping);
    } catch (IOException e) {
      return Result.refused(unreadable(file, e));
    }
  }

  private static DataIssue unreadable(ReceivedFile file, IOException e) {
    String message =
        "the .xls workbook cannot be read ("
            + e.getMessage()
            + "); a password must be taken off, or save it as .xlsx";
    return DataIssue.error(Code.FILE_UNREADABLE, file.name(), 0, "", "", message);
  }

  private static List<SheetContent> sheets(ReceivedFile file) throws IOException {
    if (file.size() > LARGEST_BYTES) {
      throw new IOException("it is larger than 32 MiB");
    }
    try (HSSFWorkbook workbook = new HSSFWorkbook(file.stream())) {
      boolean countsFrom1904 = workbook.getInternalWorkbook().isUsing1904DateWindowing();
      List<SheetContent> sheets = new ArrayList<>();
      for (Sheet sheet : workbook) {
        sheets.add(new Reader(workbook, countsFrom1904).read(sheet));
      }
      return sheets;
    } catch (IOException | RuntimeException e) {
      // The library answers damaged files with exceptions of many kinds, unchecked ones included.
      String reason = e.getMessage() == null ? e.getClass().getSimpleName() : e.getMessage();
      throw new IOException(reason);
    }
  }

  /** Takes the cells of one sheet. */
  private static final class Reader {
    private final HSSFWorkbook workbook;
    private final boolean countsFrom1904;
    private final Marks marks = new Marks();
    private final DataFormatter formatter = new DataFormatter(Locale.ROOT);
    private final List<SheetContent.Problem> problems = new ArrayList<>();

    private Reader(HSSFWorkbook workbook, boolean countsFrom1904) {
      this.workbook = workbook;
      this.countsFrom1904 = countsFrom1904;
    }

    private SheetContent read(Sheet sheet) {
      List<Row> rows = new ArrayList<>();
      for (org.apache.poi.ss.usermodel.Row row : sheet) {
        List<Cell> cells = new ArrayList<>();
        for (org.apache.poi.ss.usermodel.Cell cell : row) {
          while (cells.size() < cell.getColumnIndex()) {
            cells.add(new Cell.Blank());
          }
          cells.add(cell(cell));
          if (!(cells.get(cells.size() - 1) instanceof Cell.Blank)) {
            mark(sheet, cell);
          }
        }
        Row done = new Row(row.getRowNum() + 1, cells);
        if (!done.isBlank()) {
          rows.add(done);
          if (row.getZeroHeight()) {
            marks.hiddenRow(done.number());
          }
        }
      }
      int index = workbook.getSheetIndex(sheet);
      boolean hidden = workbook.isSheetHidden(index) || workbook.isSheetVeryHidden(index);
      return new SheetContent(sheet.getSheetName(), rows, problems, hidden, marks.all());
    }

    private void mark(Sheet sheet, org.apache.poi.ss.usermodel.Cell cell) {
      int row = cell.getRowIndex() + 1;
      int column = cell.getColumnIndex();
      if (sheet.isColumnHidden(column) || sheet.getColumnWidth(column) == 0) {
        marks.hiddenColumn(column);
      }
      String format = cell.getCellStyle().getDataFormatString();
      if (format != null && Marks.showsNothing(format)) {
        marks.hiddenCell(row, column);
      }
      if (workbook.getFontAt(cell.getCellStyle().getFontIndex()).getStrikeout()
          || hasStruckText(cell)) {
        marks.struckCell(row, column);
      }
    }

    private boolean hasStruckText(org.apache.poi.ss.usermodel.Cell cell) {
      if (cell.getCellType() != CellType.STRING
          || !(cell.getRichStringCellValue() instanceof HSSFRichTextString text)) {
        return false;
      }
      for (int run = 0; run < text.numFormattingRuns(); run++) {
        if (workbook.getFontAt(text.getFontOfFormattingRun(run)).getStrikeout()) {
          return true;
        }
      }
      return false;
    }

    private Cell cell(org.apache.poi.ss.usermodel.Cell cell) {
      return switch (cell.getCellType()) {
        case NUMERIC ->
            CellMaker.number(
                cell.getNumericCellValue(),
                cell.getCellStyle().getDataFormat(),
                cell.getCellStyle().getDataFormatString(),
                countsFrom1904,
                formatter);
        case STRING -> Cell.of(cell.getStringCellValue());
        case BLANK, _NONE -> new Cell.Blank();
        case FORMULA ->
            unusable(
                cell, "holds a formula; a calculated value is no reading: give the value itself");
        case BOOLEAN ->
            unusable(
                cell, "holds the truth value " + (cell.getBooleanCellValue() ? "TRUE" : "FALSE"));
        case ERROR ->
            unusable(
                cell,
                "holds the error " + FormulaError.forInt(cell.getErrorCellValue()).getString());
      };
    }

    private Cell unusable(org.apache.poi.ss.usermodel.Cell cell, String what) {
      problems.add(new SheetContent.Problem(cell.getRowIndex() + 1, cell.getColumnIndex(), what));
      return new Cell.Unusable();
    }
  }
}
