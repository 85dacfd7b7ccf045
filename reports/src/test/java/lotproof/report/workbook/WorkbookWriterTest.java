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
import lotproof.report.model.Cell;
import lotproof.report.model.Report;
import lotproof.report.model.Table;
import lotproof.report.text.SanitizedText;
import org.apache.poi.common.usermodel.HyperlinkType;
import org.apache.poi.ss.SpreadsheetVersion;
import org.apache.poi.ss.usermodel.CellType;
import org.apache.poi.ss.usermodel.FormulaEvaluator;
import org.apache.poi.ss.usermodel.Sheet;
import org.apache.poi.ss.util.AreaReference;
import org.apache.poi.ss.util.CellReference;
import org.apache.poi.xddf.usermodel.chart.XDDFChartData;
import org.apache.poi.xssf.usermodel.XSSFCell;
import org.apache.poi.xssf.usermodel.XSSFChart;
import org.apache.poi.xssf.usermodel.XSSFClientAnchor;
import org.apache.poi.xssf.usermodel.XSSFDrawing;
import org.apache.poi.xssf.usermodel.XSSFShape;
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
      Layout layout = SheetPlan.of(report).layout();
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
      // each once in its table, twice where it is held against the program, and the figure
      assertThat(formulas).isEqualTo(computed == 0 ? 0 : (int) (3 * computed + 1));
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
      Layout layout = SheetPlan.of(report).layout();
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
      XSSFCell figure = workbook.getSheetAt(0).getRow(4).getCell(0);
      assertThat(evaluator.evaluate(figure).getNumberValue()).isEqualTo(60);
      assertThat(figure.getCellStyle().getDataFormatString()).isEqualTo("\"±\"0\" g\"");
    }
    assertThat(compared).isEqualTo(4);
  }

  @Test
  void opensOnTheFigureAndReadsEasily() throws Exception {
    Report report = TestReports.full();
    try (XSSFWorkbook workbook = opened(report)) {
      assertThat(workbook.getActiveSheetIndex()).isZero();
      assertThat(workbook.getSheetName(0)).isEqualTo("Summary");
      assertThat(workbook.getName(SummarySheet.FIGURE_NAME)).isNotNull();
      assertThat(workbook.getName("units.largest_error").getRefersToFormula())
          .isEqualTo("'Units'!$D$4:$D$53");
      XSSFSheet units = workbook.getSheet("Units");
      assertThat(units.getPaneInformation().isFreezePane()).isTrue();
      assertThat(units.getPaneInformation().getHorizontalSplitTopRow()).isEqualTo((short) 3);
      assertThat(units.getCTWorksheet().getAutoFilter().getRef()).isEqualTo("A3:G53");
      assertThat(units.getRepeatingRows().getFirstRow()).isEqualTo(SheetPlan.ROWS_ABOVE_HEAD);
      assertThat(units.getFitToPage()).isTrue();
      assertThat(units.getRow(3).getCell(2).getCellStyle().getDataFormatString())
          .isEqualTo("0.00000_0");
      assertThat(units.getRow(2).getCell(2).getStringCellValue()).isEqualTo("Sensitivity [mV/V]");
      assertThat(workbook.getProperties().getCoreProperties().getTitle())
          .isEqualTo(report.identity().title());
      assertThat(workbook.getProperties().getCoreProperties().getCreated()).isNull();
    }
  }

  @Test
  void drawsChartsFromTheNumbersBesideThem() throws Exception {
    try (XSSFWorkbook workbook = opened(TestReports.full())) {
      int charts = 0;
      for (var sheet : workbook) {
        var drawing = ((XSSFSheet) sheet).getDrawingPatriarch();
        charts += drawing == null ? 0 : drawing.getCharts().size();
      }
      assertThat(charts).isEqualTo(8);
      Layout.Spot spot = SheetPlan.of(TestReports.full()).layout().spot("level-figures-data");
      List<XDDFChartData.Series> series = new ArrayList<>();
      workbook.getSheet(spot.sheet()).getDrawingPatriarch().getCharts().stream()
          .flatMap(chart -> chart.getChartSeries().stream())
          .forEach(data -> series.add(data.getSeries(0)));
      String first = new CellReference(spot.row(0), spot.column(1), true, true).formatAsString();
      String last = new CellReference(spot.lastRow(), spot.column(1), true, true).formatAsString();
      assertThat(series.stream().map(one -> one.getValuesData().getDataRangeReference()))
          .contains(spot.sheet() + "!" + first + ":" + last);
    }
  }

  @Test
  void onPaperNoChartIsCutAndNoneLiesOverNumbers() throws Exception {
    try (XSSFWorkbook workbook = opened(TestReports.full())) {
      for (SheetPlan.Page page : SheetPlan.of(TestReports.full()).pages()) {
        if (!page.ofCharts()) {
          continue;
        }
        XSSFSheet sheet = workbook.getSheet(page.name());
        AreaReference paper =
            new AreaReference(
                workbook.getPrintArea(workbook.getSheetIndex(sheet)), SpreadsheetVersion.EXCEL2007);
        int bottom = 0;
        for (XSSFShape frame : sheet.getDrawingPatriarch().getShapes()) {
          var anchor = (XSSFClientAnchor) frame.getAnchor();
          assertThat(anchor.getRow1()).isGreaterThanOrEqualTo(bottom);
          bottom = anchor.getRow2();
          assertThat((int) anchor.getCol2() - 1).isLessThanOrEqualTo(paper.getLastCell().getCol());
          assertThat(bottom - 1).isLessThanOrEqualTo(paper.getLastCell().getRow());
          for (int row = anchor.getRow1(); row < bottom - 1; row++) {
            assertThat(sheet.isRowBroken(row)).as("a page ends in row " + row).isFalse();
          }
          assertThat(page.spots())
              .allMatch(spot -> spot.firstColumn() >= anchor.getCol2())
              .isNotEmpty();
        }
      }
    }
  }

  @Test
  void theEdgesOfABandAreLinesOfTheirOwn() throws Exception {
    try (XSSFWorkbook workbook = opened(TestReports.full())) {
      List<String> edges = new ArrayList<>();
      for (var sheet : workbook) {
        XSSFDrawing drawing = ((XSSFSheet) sheet).getDrawingPatriarch();
        for (XSSFChart chart : drawing == null ? List.<XSSFChart>of() : drawing.getCharts()) {
          for (XDDFChartData data : chart.getChartSeries()) {
            for (int i = 0; i < data.getSeriesCount(); i++) {
              var values = data.getSeries(i).getValuesData();
              var rows =
                  new AreaReference(values.getDataRangeReference(), SpreadsheetVersion.EXCEL2007);
              String title = nameOf(sheet, rows.getFirstCell());
              if (title.equals("±60 g")) {
                edges.add(title);
                for (CellReference cell : rows.getAllReferencedCells()) {
                  assertThat(nameOf(sheet, cell)).isEqualTo(title);
                }
              }
            }
          }
        }
      }
      assertThat(edges).hasSize(2);
    }
  }

  /** The name of the curve that a number belongs to, two columns to its left. */
  private static String nameOf(Sheet sheet, CellReference number) {
    var cell = sheet.getRow(number.getRow()).getCell(number.getCol() - 2);
    return cell == null || cell.getCellType() != CellType.STRING ? "" : cell.getStringCellValue();
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
    new WorkbookWriter().write(report, sink);
    return sink.bytes("report.xlsx");
  }

  private static XSSFWorkbook opened(Report report) throws Exception {
    return new XSSFWorkbook(new ByteArrayInputStream(bytes(report)));
  }

  private static XSSFCell cellAt(XSSFSheet sheet, Layout.Spot spot, int row, int column) {
    return sheet.getRow(spot.row(row)).getCell(spot.column(column));
  }
}
