package lotproof.report.workbook;

import static lotproof.report.model.Format.TEXT;
import static lotproof.report.model.Format.significant;
import static org.assertj.core.api.Assertions.assertThat;

import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import lotproof.report.MemorySink;
import lotproof.report.TestReports;
import lotproof.report.TestWorkbooks;
import lotproof.report.model.Chart.Axis;
import lotproof.report.model.Formula.Range;
import lotproof.report.model.Formula.Rows;
import lotproof.report.model.Report;
import lotproof.report.model.Sheet;
import lotproof.report.model.SheetChart;
import lotproof.report.model.SheetChart.Look;
import lotproof.report.model.SheetChart.Series;
import lotproof.report.model.SheetChart.Values;
import lotproof.report.model.Table;
import lotproof.report.model.TableBuilder;
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

/** Charts as the spreadsheet library reads them back. */
class NativeChartTest {
  static Stream<Report> reports() {
    return Stream.of(TestReports.full(), TestReports.hostile());
  }

  /** Three names with a number, nothing and a tiny number, and their margins. */
  private static final Table TABLE =
      new TableBuilder<List<Object>>("t", "T")
          .add("Name", TEXT, row -> row.get(0))
          .missing("lost")
          .add("A [g]", significant(3), row -> row.get(1))
          .add("B [g]", significant(3), row -> row.get(2))
          .of(
              List.of(
                  List.of("one", 1.5, 2.5),
                  List.of("<two>", Optional.empty(), 3),
                  List.of("three", 1e-300, 52)));

  private static final List<Rows> ALL = List.of(new Rows(0, 2));
  private static final Range NAMES = new Range("t", "name", ALL);
  private static final Range A = new Range("t", "a", ALL);
  private static final Range B = new Range("t", "b", ALL);

  @ParameterizedTest
  @MethodSource("reports")
  void chartsFollowTheSchemaAndAreDescribed(Report report) throws IOException {
    int charts = 0;
    MemorySink sink = new MemorySink();
    WorkbookWriter.write(TestWorkbooks.of(report), sink);
    try (XSSFWorkbook workbook = opened(sink.bytes("report.xlsx"))) {
      for (var sheet : workbook) {
        XSSFDrawing drawing = ((XSSFSheet) sheet).getDrawingPatriarch();
        if (drawing != null) {
          assertThat(faults(drawing.getCTDrawing())).isEmpty();
          assertDescribed(drawing);
          for (XSSFChart chart : drawing.getCharts()) {
            // what the library's own schemas do not hold
            chart.getCTChartSpace().unsetPrintSettings();
            for (var bars : chart.getCTChart().getPlotArea().getBarChartList()) {
              bars.unsetGapWidth();
              bars.unsetOverlap();
            }
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
    SheetChart chart = chart(Optional.of(NAMES), Series.of("a", Look.DOTS, A).within(B, B));
    try (XSSFWorkbook workbook = opened(drawn(chart))) {
      XSSFDrawing drawing = workbook.getSheetAt(0).getDrawingPatriarch();
      var anchor = drawing.getCTDrawing().getTwoCellAnchorList().get(0);
      var words = anchor.getGraphicFrame().getNvGraphicFramePr().getCNvPr();
      assertThat(words.getDescr()).isEqualTo("It is, by 3 g.");
      XSSFChart read = drawing.getCharts().get(0);
      assertThat(read.getTitleText().getString()).isEqualTo("Is <it> &amp; \"so\"?");
      String area = read.getCTChart().getPlotArea().toString();
      assertThat(area).contains("'a b'!$B$4:$B$6", "&lt;two>");
      assertThat(caches(area).get(2))
          .contains("<c:ptCount val=\"3\"/>", "idx=\"0\"", "1.0E-300")
          .doesNotContain("idx=\"1\"");
    }
  }

  @Test
  void intervalsAreErrorBarsFromCells() throws IOException {
    SheetChart chart = chart(Optional.of(NAMES), Series.of("a", Look.DOTS, A).within(A, B));
    try (XSSFWorkbook workbook = opened(drawn(chart))) {
      var line = plotted(workbook).getLineChartArray(0).getSerArray(0);
      assertThat(line.getErrBars().getMinus().getNumRef().getF()).isEqualTo("'a b'!$B$4:$B$6");
      assertThat(line.getErrBars().getPlus().getNumRef().getF()).isEqualTo("'a b'!$C$4:$C$6");
    }
  }

  @Test
  void barsStandOnWhatCarriesThemFromZero() throws IOException {
    SheetChart chart =
        chart(Optional.of(NAMES), Series.of("from", Look.BASE, A), Series.of("adds", Look.BARS, B));
    try (XSSFWorkbook workbook = opened(drawn(chart))) {
      var bars = plotted(workbook).getBarChartArray(0);
      assertThat(bars.getGrouping().getVal().toString()).isEqualTo("stacked");
      assertThat(bars.toString()).contains("<c:overlap val=\"100\"/>");
      assertThat(bars.getSerArray(0).getSpPr().isSetNoFill()).isTrue();
      assertThat(plotted(workbook).getValAxArray(0).getScaling().getMin().getVal()).isZero();
    }
  }

  @Test
  void axesOfPlacesEndNearThem() throws IOException {
    Values.Row row = new Values.Row("t", "a", "b", 2);
    SheetChart chart = chart(Optional.empty(), Series.of("run", Look.DOTS, row, 2));
    try (XSSFWorkbook workbook = opened(drawn(chart))) {
      var across = plotted(workbook).getValAxArray(0).getScaling();
      assertThat(across.getMin().getVal()).isZero();
      assertThat(across.getMax().getVal()).as("52 kg").isEqualTo(60);
      var x = plotted(workbook).getScatterChartArray(0).getSerArray(0).getXVal().getNumRef();
      assertThat(x.getF()).isEqualTo("'a b'!$B$6:$C$6");
    }
  }

  @ParameterizedTest
  @MethodSource("reports")
  void isTheSameWhateverTheMachineSpeaks(Report report) {
    Locale before = Locale.getDefault();
    MemorySink here = new MemorySink();
    MemorySink elsewhere = new MemorySink();
    try {
      WorkbookWriter.write(TestWorkbooks.of(report), here);
      Locale.setDefault(Locale.forLanguageTag("ar-EG-u-nu-arab"));
      WorkbookWriter.write(TestWorkbooks.of(report), elsewhere);
    } finally {
      Locale.setDefault(before);
    }
    assertThat(elsewhere.bytes("report.xlsx")).isEqualTo(here.bytes("report.xlsx"));
  }

  private static SheetChart chart(Optional<Range> names, Series... series) {
    return new SheetChart(
        "Is <it> &amp; \"so\"?",
        "It is, by 3 g.",
        names,
        new Axis("Figure", "g"),
        new Axis("Level", ""),
        List.of(series));
  }

  private static org.openxmlformats.schemas.drawingml.x2006.chart.CTPlotArea plotted(
      XSSFWorkbook workbook) {
    XSSFDrawing drawing = workbook.getSheetAt(0).getDrawingPatriarch();
    return drawing.getCharts().get(0).getCTChart().getPlotArea();
  }

  private static List<String> caches(String area) {
    return Pattern.compile("<c:numCache>.*?</c:numCache>", Pattern.DOTALL)
        .matcher(area)
        .results()
        .map(cache -> cache.group())
        .toList();
  }

  private static byte[] drawn(SheetChart chart) throws IOException {
    ByteArrayOutputStream bytes = new ByteArrayOutputStream();
    Layout layout = Layout.of(List.of(new Sheet("a b", List.of(TABLE), List.of(chart))));
    try (XSSFWorkbook workbook = new XSSFWorkbook()) {
      new NativeChart(chart, layout).drawOn(workbook.createSheet("a b"), 3, 5);
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
