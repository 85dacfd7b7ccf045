package lotproof.report.workbook;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.io.ByteArrayInputStream;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.concurrent.ConcurrentHashMap;
import java.util.stream.Stream;
import java.util.zip.ZipEntry;
import java.util.zip.ZipInputStream;
import lotproof.report.MemorySink;
import lotproof.report.TestReports;
import lotproof.report.TestWorkbooks;
import lotproof.report.model.Cell;
import lotproof.report.model.Report;
import lotproof.report.model.Sheet;
import lotproof.report.model.Table;
import lotproof.report.model.Workbook;
import lotproof.report.text.SanitizedText;
import org.apache.poi.common.usermodel.HyperlinkType;
import org.apache.poi.ss.usermodel.CellType;
import org.apache.poi.ss.usermodel.FormulaEvaluator;
import org.apache.poi.xssf.usermodel.XSSFCell;
import org.apache.poi.xssf.usermodel.XSSFSheet;
import org.apache.poi.xssf.usermodel.XSSFWorkbook;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

class WorkbookWriterTest {
  static Stream<Report> reports() {
    return Stream.of(TestReports.full(), TestReports.hostile(), TestReports.empty());
  }

  @ParameterizedTest
  @MethodSource("reports")
  void everyTableComesBackAsItWas(Report report) throws Exception {
    try (XSSFWorkbook workbook = opened(report)) {
      Layout layout = layout(report);
      for (Table table : report.tables()) {
        XSSFSheet sheet = workbook.getSheet(layout.spot(table.id()).sheet());
        assertThat(sheet).as(table.id()).isNotNull();
        for (int r = 0; r < table.rows().size(); r++) {
          for (int c = 0; c < table.columns().size(); c++) {
            XSSFCell cell = cellAt(sheet, layout.spot(table.id()), r, c);
            assertSame(table.rows().get(r).cells().get(c), cell);
          }
        }
      }
    }
  }

  private static void assertSame(Cell expected, XSSFCell cell) {
    if (expected instanceof Cell.Text text) {
      assertThat(cell.getCellType()).isEqualTo(CellType.STRING);
      assertThat(cell.getStringCellValue()).isEqualTo(SanitizedText.clean(text.text()));
      assertThat(cell.getCellStyle().getQuotePrefixed())
          .isEqualTo(SanitizedText.looksLikeFormula(SanitizedText.clean(text.text())));
    } else if (expected instanceof Cell.Missing) {
      assertThat(cell.getCellType()).isEqualTo(CellType.STRING);
    } else {
      assertThat(cell.getNumericCellValue()).isEqualTo(expected.number().orElseThrow());
    }
  }

  @ParameterizedTest
  @MethodSource("reports")
  void onlyOurOwnFormulasAndLinksAreInIt(Report report) throws Exception {
    long computed =
        report.tables().stream()
            .flatMap(t -> t.rows().stream())
            .flatMap(r -> r.cells().stream())
            .filter(c -> c instanceof Cell.Numeric number && number.formula().isPresent())
            .count();
    try (XSSFWorkbook workbook = opened(report)) {
      int formulas = 0;
      for (var sheet : workbook) {
        for (var row : sheet) {
          for (var cell : row) {
            formulas += cell.getCellType() == CellType.FORMULA ? 1 : 0;
          }
        }
        sheet
            .getHyperlinkList()
            .forEach(link -> assertThat(link.getType()).isEqualTo(HyperlinkType.DOCUMENT));
      }
      // each in its table, and the status on the first sheet
      assertThat(formulas).isEqualTo((int) computed + 1);
      boolean reachesOut =
          workbook.getPackage().getParts().stream()
              .anyMatch(part -> part.getPartName().getName().contains("externalLink"));
      assertThat(reachesOut).isFalse();
    }
  }

  @Test
  void aSpreadsheetComputesWhatTheProgramComputed() throws Exception {
    Report report = TestReports.full();
    int compared = 0;
    try (XSSFWorkbook workbook = opened(report)) {
      FormulaEvaluator evaluator = workbook.getCreationHelper().createFormulaEvaluator();
      Layout layout = layout(report);
      for (Table table : report.tables()) {
        XSSFSheet sheet = workbook.getSheet(layout.spot(table.id()).sheet());
        for (int r = 0; r < table.rows().size(); r++) {
          for (int c = 0; c < table.columns().size(); c++) {
            if (table.rows().get(r).cells().get(c) instanceof Cell.Numeric wanted
                && wanted.formula().isPresent()) {
              XSSFCell cell = cellAt(sheet, layout.spot(table.id()), r, c);
              double again = evaluator.evaluate(cell).getNumberValue();
              // sums are taken in another order, so the last bits may differ
              double tolerance = 1e-12 * Math.abs(wanted.value());
              assertThat(again).isCloseTo(wanted.value(), within(tolerance));
              compared++;
            }
          }
        }
      }
    }
    assertThat(compared).isEqualTo(4);
  }

  @Test
  void opensOnTheSummaryAndReadsEasily() throws Exception {
    Report report = TestReports.full();
    try (XSSFWorkbook workbook = opened(report)) {
      assertThat(workbook.getActiveSheetIndex()).isZero();
      assertThat(workbook.getSheetName(0)).isEqualTo("Summary");
      XSSFSheet units = workbook.getSheet(layout(report).spot("units").sheet());
      assertThat(workbook.getName("units.largest_error").getRefersToFormula())
          .isEqualTo("'" + units.getSheetName() + "'!$D$4:$D$53");
      assertThat(units.getPaneInformation().isFreezePane()).isTrue();
      assertThat(units.getPaneInformation().getHorizontalSplitTopRow()).isEqualTo((short) 3);
      assertThat(units.getCTWorksheet().getAutoFilter().getRef()).isEqualTo("A3:G53");
      assertThat(units.getRepeatingRows().getFirstRow()).isEqualTo(Layout.ROWS_ABOVE_HEAD);
      assertThat(workbook.getPrintArea(workbook.getSheetIndex(units))).contains("$A$1:$G$53");
      assertThat(units.getRow(3).getCell(2).getCellStyle().getDataFormatString())
          .isEqualTo("0.00000_0");
      assertThat(units.getRow(2).getCell(2).getStringCellValue()).isEqualTo("Sensitivity [mV/V]");
      assertThat(workbook.getProperties().getCoreProperties().getTitle())
          .isEqualTo(report.identity().title());
      assertThat(workbook.getProperties().getCoreProperties().getCreated()).isNull();
    }
  }

  @Test
  void inputsConstantsAndFormulasLookDifferentAndALegendSaysHow() throws Exception {
    Table figures = TestReports.full().table("figures").orElseThrow().withRecord("content");
    Workbook content =
        new Workbook(
            TestReports.full().identity(),
            new Workbook.Summary(Cell.text("Yes."), Cell.text("As recorded."), List.of()),
            List.of(
                Sheet.of("Units", TestReports.full().table("units").orElseThrow()),
                Sheet.of("Figures", figures)));
    MemorySink sink = new MemorySink();
    WorkbookWriter.write(content, sink);
    try (XSSFWorkbook workbook =
        new XSSFWorkbook(new ByteArrayInputStream(sink.bytes("report.xlsx")))) {
      XSSFSheet sheet = workbook.getSheet("Figures");
      List<String> fills = new ArrayList<>();
      // an input, what was recorded in it, and a formula
      for (String key : List.of("content", Table.recorded("content"), "mean")) {
        fills.add(fill(sheet.getRow(3).getCell(figures.columnIndex(key))));
      }
      assertThat(fills).doesNotHaveDuplicates();
      List<String> legend = new ArrayList<>();
      for (var row : workbook.getSheetAt(0)) {
        XSSFCell cell = (XSSFCell) row.getCell(1);
        if (cell != null && cell.getStringCellValue().matches("(Input|Constant|Formula): .*")) {
          legend.add(fill(cell));
        }
      }
      assertThat(legend).isEqualTo(fills);
    }
  }

  private static String fill(XSSFCell cell) {
    var color = cell.getCellStyle().getFillForegroundColorColor();
    return color == null ? "none" : color.getARGBHex();
  }

  @Test
  void aChangeOfAnInputIsFoundBesideIt() throws Exception {
    Table table = TestReports.full().table("figures").orElseThrow().withRecord("content");
    assertThat(table.rows().get(0).cells().get(table.columnIndex("content-recorded")))
        .isEqualTo(Cell.number(0.95));
    assertThat(table.columns().get(table.columnIndex("content")).use())
        .isEqualTo(Table.Column.Use.INPUT);
  }

  @Test
  void isPackedWithoutTimes() throws Exception {
    Set<Long> times = new HashSet<>();
    List<String> names = new ArrayList<>();
    try (ZipInputStream zip =
        new ZipInputStream(new ByteArrayInputStream(bytes(TestReports.full())))) {
      for (ZipEntry entry = zip.getNextEntry(); entry != null; entry = zip.getNextEntry()) {
        times.add(entry.getTime());
        names.add(entry.getName());
      }
    }
    assertThat(times).hasSize(1);
    assertThat(names.get(0)).isEqualTo("[Content_Types].xml");
    assertThat(names).doesNotHaveDuplicates();
    assertThat(bytes(TestReports.full())).isEqualTo(written(TestReports.full()));
  }

  private static final Map<Report, byte[]> WRITTEN = new ConcurrentHashMap<>();

  private static byte[] bytes(Report report) {
    return WRITTEN.computeIfAbsent(report, WorkbookWriterTest::written);
  }

  private static byte[] written(Report report) {
    MemorySink sink = new MemorySink();
    WorkbookWriter.write(TestWorkbooks.of(report), sink);
    return sink.bytes("report.xlsx");
  }

  private static XSSFWorkbook opened(Report report) throws Exception {
    return new XSSFWorkbook(new ByteArrayInputStream(bytes(report)));
  }

  private static XSSFCell cellAt(XSSFSheet sheet, Layout.Spot spot, int row, int column) {
    return sheet.getRow(spot.row(row)).getCell(column);
  }

  private static Layout layout(Report report) {
    return Layout.of(TestWorkbooks.of(report).sheets());
  }
}
