package lotproof.report.assembly;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.Stream;
import lotproof.report.MemorySink;
import lotproof.report.model.Cell;
import lotproof.report.model.Report;
import lotproof.report.model.Sheet;
import lotproof.report.model.SheetChart;
import lotproof.report.model.SheetChart.Look;
import lotproof.report.model.Table;
import lotproof.report.model.Workbook;
import lotproof.report.workbook.WorkbookWriter;
import org.apache.poi.ss.usermodel.Row;
import org.apache.poi.xssf.usermodel.XSSFSheet;
import org.apache.poi.xssf.usermodel.XSSFWorkbook;
import org.junit.jupiter.api.Test;

/** The workbook of the demo study. */
class StudyWorkbookTest {
  private static final Report REPORT = StudyReport.of(DemoResult.get(), "0".repeat(64), "test");
  private static final Workbook WORKBOOK = StudyWorkbook.of(DemoResult.get(), REPORT);

  private static XSSFWorkbook opened() throws IOException {
    MemorySink sink = new MemorySink();
    WorkbookWriter.write(WORKBOOK, sink);
    return new XSSFWorkbook(new ByteArrayInputStream(sink.bytes("report.xlsx")));
  }

  private static Table table(String id) {
    return WORKBOOK.tables().stream().filter(t -> t.id().equals(id)).findFirst().orElseThrow();
  }

  private static Cell cell(Table table, int row, String column) {
    return table.rows().get(row).cells().get(table.columnIndex(column));
  }

  @Test
  void hasTwelveSheetsWithAllLevelsInEachTable() throws IOException {
    try (XSSFWorkbook workbook = opened()) {
      List<String> names = new ArrayList<>();
      workbook.forEach(sheet -> names.add(sheet.getSheetName()));
      assertThat(names)
          .containsExactly(
              "Summary",
              "Levels",
              "Breakdown",
              "Errors",
              "Spread",
              "Lots",
              "Findings",
              "Production tests",
              "Bench",
              "Units",
              "Readings",
              "Method");
    }
    for (String id : List.of("levels", "breakdown", "errors", "pair-limits")) {
      assertThat(table(id).rows().stream().map(row -> row.cells().get(0)))
          .as(id)
          .contains(Cell.text("no calibration"), Cell.text("one-point (20 kg)"));
    }
  }

  @Test
  void nothingIsPrintedBelowSevenPoints() throws IOException {
    try (XSSFWorkbook workbook = opened()) {
      for (var sheet : workbook) {
        double scale = sheet.getPrintSetup().getScale() / 100.0;
        double smallest =
            fonts((XSSFSheet) sheet).mapToDouble(points -> points * scale).min().orElseThrow();
        assertThat(smallest).as(sheet.getSheetName()).isGreaterThanOrEqualTo(7);
        assertThat(sheet.getFitToPage()).as(sheet.getSheetName()).isFalse();
        assertThat(workbook.getPrintArea(workbook.getSheetIndex(sheet))).isNotNull();
        assertThat(sheet.getRepeatingRows()).as(sheet.getSheetName()).isNotNull();
        assertThat(sheet.getPaneInformation().isFreezePane()).isTrue();
      }
    }
  }

  private static Stream<Integer> fonts(XSSFSheet sheet) {
    List<Integer> points = new ArrayList<>();
    for (Row row : sheet) {
      row.forEach(
          cell -> {
            int font = cell.getCellStyle().getFontIndex();
            points.add((int) sheet.getWorkbook().getFontAt(font).getFontHeightInPoints());
          });
    }
    return points.stream();
  }

  @Test
  void theSummarySaysWhatTheReportSays() {
    assertThat(((Cell.Text) WORKBOOK.summary().verdict()).text())
        .isEqualTo("Print ±50 g after a one-point calibration? Yes. The data support ±34 g.");
    assertThat(WORKBOOK.summary().entries().stream().map(e -> ((Cell.Text) e.words()).text()))
        .contains(
            "Print ±500 g without calibration? No. The data support ±756 g.",
            "12 of 26 findings have no decision. What is not decided stays in the figure.");
  }

  @Test
  void verdictsMarginsAndWarningsFollowOtherCells() {
    Table levels = table("levels");
    for (int level = 0; level < 3; level++) {
      for (String column : List.of("verdict", "printable-figure", "limit", "margin", "warning")) {
        assertThat(cell(levels, level, column).formula()).as(column).isPresent();
      }
    }
    assertThat(cell(levels, 2, "warning").toString()).contains("The margin rests on an exclusion.");
    assertThat(cell(levels, 1, "warning").toString()).contains("One kit sets the limit.");
    assertThat(cell(levels, 0, "verdict").toString()).contains("not supported");
  }

  @Test
  void everyChartThatShowsThePrintableFigureShowsTheWantedOne() {
    Sheet errors = WORKBOOK.sheets().get(2);
    assertThat(errors.charts()).hasSize(3);
    for (SheetChart chart : errors.charts()) {
      assertThat(chart.series().stream().map(SheetChart.Series::look))
          .contains(Look.EDGE, Look.WANTED, Look.DOTS);
      assertThat(chart.series().stream().map(SheetChart.Series::name))
          .contains("rising", "falling");
      // more are no chart in a spreadsheet
      assertThat(chart.series()).hasSizeLessThanOrEqualTo(255);
    }
    Table breakdown = table("breakdown");
    assertThat(breakdown.rows().stream().map(row -> row.cells().get(1)))
        .contains(Cell.text("Printable figure"), Cell.text("Wanted figure"));
  }
}
