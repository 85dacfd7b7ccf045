package lotproof.report.workbook;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import lotproof.report.MemorySink;
import lotproof.report.TestReports;
import lotproof.report.model.Chart;
import lotproof.report.model.Chart.Axis;
import lotproof.report.model.Chart.Caption;
import lotproof.report.model.ChartTable;
import lotproof.report.model.Report;
import org.apache.poi.xssf.usermodel.XSSFChart;
import org.apache.poi.xssf.usermodel.XSSFDrawing;
import org.apache.poi.xssf.usermodel.XSSFSheet;
import org.apache.poi.xssf.usermodel.XSSFWorkbook;
import org.apache.xmlbeans.XmlError;
import org.apache.xmlbeans.XmlObject;
import org.apache.xmlbeans.XmlOptions;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** Read back by the spreadsheet library, and held against the published schemas that it carries. */
class NativeChartTest {
  static Stream<Report> reports() {
    return Stream.of(TestReports.full(), TestReports.hostile());
  }

  @ParameterizedTest
  @MethodSource("reports")
  void chartsFollowTheSchemaAndAreDescribed(Report report) throws IOException {
    int charts = 0;
    MemorySink sink = new MemorySink();
    new WorkbookWriter().write(report, sink);
    try (XSSFWorkbook workbook = opened(sink.bytes("report.xlsx"))) {
      for (var sheet : workbook) {
        XSSFDrawing drawing = ((XSSFSheet) sheet).getDrawingPatriarch();
        if (drawing != null) {
          assertThat(faults(drawing.getCTDrawing())).isEmpty();
          assertDescribed(drawing);
          for (XSSFChart chart : drawing.getCharts()) {
            // the library's own settings of a printer, whose schema it does not carry
            chart.getCTChartSpace().unsetPrintSettings();
            assertThat(faults(chart.getCTChartSpace())).isEmpty();
            charts++;
          }
        }
      }
    }
    assertThat(charts).isPositive();
  }

  private static void assertDescribed(XSSFDrawing drawing) {
    List<Long> ids = new ArrayList<>();
    for (int i = 0; i < drawing.getCharts().size(); i++) {
      var anchor = drawing.getCTDrawing().getTwoCellAnchorList().get(i);
      var words = anchor.getGraphicFrame().getNvGraphicFramePr().getCNvPr();
      assertThat(words.getName()).isEqualTo("Chart " + (i + 1));
      assertThat(words.getTitle()).isNotEmpty();
      assertThat(words.getDescr()).isNotEmpty();
      ids.add(words.getId());
    }
    assertThat(ids).doesNotHaveDuplicates();
  }

  @Test
  void wordsComeBackAndAMissingNumberStaysMissing() throws IOException {
    Chart chart =
        new Chart(
            new Caption("id", "Is <it> &amp; \"so\"?", "It is, by 3 g."),
            new Axis("Figure", "g"),
            Axis.words("Level", List.of("one", "<two>", "three")),
            List.of(
                new Chart.Series(
                    "figure",
                    Chart.Look.BARS,
                    List.of(new Chart.Point(1.5, 0), new Chart.Point(1e-300, 2)))),
            List.of());
    try (XSSFWorkbook workbook = opened(drawn(chart))) {
      XSSFDrawing drawing = workbook.getSheetAt(0).getDrawingPatriarch();
      var anchor = drawing.getCTDrawing().getTwoCellAnchorList().get(0);
      var words = anchor.getGraphicFrame().getNvGraphicFramePr().getCNvPr();
      assertThat(words.getDescr()).isEqualTo("It is, by 3 g.");
      XSSFChart read = drawing.getCharts().get(0);
      assertThat(read.getTitleText().getString()).isEqualTo("Is <it> &amp; \"so\"?");
      String area = read.getCTChart().getPlotArea().toString();
      assertThat(area).contains("'a b'!$B$2:$B$4", "&lt;two>");
      var caches = Pattern.compile("<c:numCache>.*?</c:numCache>", Pattern.DOTALL).matcher(area);
      assertThat(caches.results().map(cache -> cache.group()))
          .singleElement()
          .asString()
          .contains("<c:ptCount val=\"3\"/>", "idx=\"0\"", "1.0E-300")
          .doesNotContain("idx=\"1\"");
    }
  }

  @ParameterizedTest
  @MethodSource("reports")
  void isTheSameWhateverTheMachineSpeaks(Report report) {
    Locale before = Locale.getDefault();
    MemorySink here = new MemorySink();
    MemorySink elsewhere = new MemorySink();
    try {
      new WorkbookWriter().write(report, here);
      Locale.setDefault(Locale.forLanguageTag("ar-EG-u-nu-arab"));
      new WorkbookWriter().write(report, elsewhere);
    } finally {
      Locale.setDefault(before);
    }
    assertThat(elsewhere.bytes("report.xlsx")).isEqualTo(here.bytes("report.xlsx"));
  }

  private static byte[] drawn(Chart chart) throws IOException {
    ByteArrayOutputStream bytes = new ByteArrayOutputStream();
    try (XSSFWorkbook workbook = new XSSFWorkbook()) {
      XSSFSheet sheet = workbook.createSheet("a b");
      Layout.Spot spot = new Layout.Spot(ChartTable.of(chart), "a b", 0, 0);
      new NativeChart(chart, spot).drawOn(sheet, 0);
      workbook.write(bytes);
    }
    return bytes.toByteArray();
  }

  private static XSSFWorkbook opened(byte[] bytes) throws IOException {
    return new XSSFWorkbook(new ByteArrayInputStream(bytes));
  }

  private static List<String> faults(XmlObject markup) {
    List<XmlError> faults = new ArrayList<>();
    markup.validate(new XmlOptions().setErrorListener(faults));
    return faults.stream().map(XmlError::toString).toList();
  }
}
