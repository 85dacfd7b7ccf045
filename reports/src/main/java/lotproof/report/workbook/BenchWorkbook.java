package lotproof.report.workbook;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.util.List;
import lotproof.plan.design.BenchSheet;
import lotproof.plan.design.Preparation;
import lotproof.report.workbook.Cells.Role;
import lotproof.study.Conditions;
import lotproof.study.Study;
import org.apache.poi.ss.usermodel.BorderStyle;
import org.apache.poi.ss.usermodel.Cell;
import org.apache.poi.ss.usermodel.CellStyle;
import org.apache.poi.ss.usermodel.DataValidation;
import org.apache.poi.ss.usermodel.DataValidationConstraint;
import org.apache.poi.ss.usermodel.DataValidationConstraint.OperatorType;
import org.apache.poi.ss.usermodel.DataValidationConstraint.ValidationType;
import org.apache.poi.ss.usermodel.DataValidationHelper;
import org.apache.poi.ss.usermodel.PageMargin;
import org.apache.poi.ss.usermodel.PrintSetup;
import org.apache.poi.ss.usermodel.Row;
import org.apache.poi.ss.usermodel.Sheet;
import org.apache.poi.ss.util.CellRangeAddress;
import org.apache.poi.ss.util.CellRangeAddressList;
import org.apache.poi.xssf.usermodel.XSSFWorkbook;

/**
 * A bench sheet of a session or side test as a workbook: the rows to fill in, checked as they are
 * typed, and what has to be right before the first of them. The sheet named {@code readings}
 * imports as it is.
 */
public final class BenchWorkbook {
  private static final int TEXT_CHARACTERS = 100;
  private static final int SPARE_ROWS = 6;

  /** Widest counts that a 32-bit converter gives. */
  private static final String LOWEST_COUNTS = "-4294967296";

  private static final String HIGHEST_COUNTS = "4294967296";

  private final XSSFWorkbook workbook = new XSSFWorkbook();
  private final Cells cells = new Cells(workbook);
  private final BenchSheet content;

  private BenchWorkbook(BenchSheet content) {
    this.content = content;
  }

  /** The bytes of the workbook; the same for the same sheet. */
  public static byte[] of(Study study, BenchSheet sheet) {
    BenchWorkbook bench = new BenchWorkbook(sheet);
    try {
      bench.readings(study);
      bench.preparation(study);
      XSSFWorkbook workbook = bench.workbook;
      workbook.getProperties().getCoreProperties().setCreator("Lotproof");
      workbook.getProperties().getExtendedProperties().setApplication("Lotproof");
      return StableWorkbook.packed(workbook);
    } catch (IOException e) {
      throw new UncheckedIOException("cannot write the bench sheet", e);
    }
  }

  private void readings(Study study) {
    Sheet sheet = workbook.createSheet("readings");
    Row head = sheet.createRow(0);
    for (int c = 0; c < content.headers().size(); c++) {
      cells.words(head, c, content.headers().get(c), Role.HEAD);
      Cells.width(sheet, c, width(c));
    }
    head.setHeightInPoints(56);
    CellStyle box = box("General");
    CellStyle text = box("@");
    for (int r = 0; r < content.rows().size(); r++) {
      Row row = sheet.createRow(1 + r);
      row.setHeightInPoints(24);
      List<String> values = content.rows().get(r);
      for (int c = 0; c < values.size(); c++) {
        boolean number = c >= content.firstReading() && c < values.size() - 1;
        Cell cell = row.createCell(c);
        cell.setCellStyle(number ? box : text);
        if (!values.get(c).isEmpty()) {
          cell.setCellValue(values.get(c));
        }
      }
    }
    validate(sheet, study);
    print(sheet, study);
  }

  private int width(int column) {
    if (column >= content.firstReading() && column < content.readingsEnd()) {
      return 11;
    }
    return column == content.headers().size() - 1 ? 22 : column < 2 ? 8 : 12;
  }

  private CellStyle box(String format) {
    CellStyle style = workbook.createCellStyle();
    style.setBorderTop(BorderStyle.HAIR);
    style.setBorderBottom(BorderStyle.HAIR);
    style.setBorderLeft(BorderStyle.HAIR);
    style.setBorderRight(BorderStyle.HAIR);
    style.setDataFormat(workbook.createDataFormat().getFormat(format));
    return style;
  }

  private void validate(Sheet sheet, Study study) {
    int first = content.firstReading();
    int end = content.readingsEnd();
    Conditions planned = study.conditions();
    String kelvin =
        "In °C. Planned: " + planned.lowestCelsius() + " to " + planned.highestCelsius() + " °C.";
    String counts = "A number: raw converter counts, not tared, not in grams.";
    String date = "AND(LEN(E2)=10,MID(E2,5,1)=\"-\",MID(E2,8,1)=\"-\")";
    String time = "AND(LEN(F2)=5,MID(F2,3,1)=\":\")";
    DataValidationHelper helper = sheet.getDataValidationHelper();
    add(sheet, between(helper, LOWEST_COUNTS, HIGHEST_COUNTS), first, end - 1, "Counts", counts);
    add(sheet, between(helper, "-60", "120"), end, end + 1, "Temperature", kelvin);
    add(sheet, helper.createCustomConstraint(date), 4, 4, "Date", "As 2026-09-07.");
    add(
        sheet,
        helper.createCustomConstraint(time),
        5,
        5,
        "Time",
        "As 08:30, 24 hours, start of the run.");
  }

  private static DataValidationConstraint between(
      DataValidationHelper helper, String least, String most) {
    return helper.createNumericConstraint(
        ValidationType.DECIMAL, OperatorType.BETWEEN, least, most);
  }

  private void add(
      Sheet sheet,
      DataValidationConstraint constraint,
      int firstColumn,
      int lastColumn,
      String title,
      String words) {
    int last = content.rows().size() + SPARE_ROWS;
    DataValidation validation =
        sheet
            .getDataValidationHelper()
            .createValidation(
                constraint, new CellRangeAddressList(1, last, firstColumn, lastColumn));
    validation.setEmptyCellAllowed(true);
    validation.setShowErrorBox(true);
    validation.createErrorBox(title, words);
    validation.setShowPromptBox(true);
    validation.createPromptBox(title, words);
    sheet.addValidationData(validation);
  }

  private void print(Sheet sheet, Study study) {
    sheet.createFreezePane(4, 1);
    Cells.setPrint(sheet, study.title() + ", " + content.caption(), true);
    sheet.getPrintSetup().setPaperSize(PrintSetup.A4_PAPERSIZE);
    sheet.getFooter().setLeft("Date: ____________  Name: ____________________");
    sheet.setRepeatingRows(new CellRangeAddress(0, 0, -1, -1));
    sheet.setMargin(PageMargin.LEFT, 0.4);
    sheet.setMargin(PageMargin.RIGHT, 0.4);
  }

  private void preparation(Study study) {
    Sheet sheet = workbook.createSheet("preparation");
    sheet.setDisplayGridlines(false);
    Cells.width(sheet, 0, 4);
    Cells.width(sheet, 1, TEXT_CHARACTERS);
    int next = 0;
    for (Preparation.Part part : content.preparation()) {
      cells.words(sheet.createRow(next++), 0, part.title(), Role.TITLE);
      for (String line : part.lines()) {
        Row row = sheet.createRow(next++);
        cells.words(row, 0, "☐", Role.TEXT);
        cells.words(row, 1, line.strip(), Role.TEXT);
        Cells.fitHeight(row, line.length(), TEXT_CHARACTERS);
      }
      next++;
    }
    Cells.setPrint(sheet, study.title() + ", preparation", false);
    sheet.getPrintSetup().setPaperSize(PrintSetup.A4_PAPERSIZE);
  }
}
