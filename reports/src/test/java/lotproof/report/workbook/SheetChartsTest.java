package lotproof.report.workbook;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import java.util.regex.MatchResult;
import java.util.regex.Pattern;
import lotproof.report.model.Chart.Caption;
import lotproof.report.workbook.ChartPlot.Axis;
import lotproof.report.workbook.ChartPlot.Kind;
import lotproof.report.workbook.ChartPlot.Look;
import lotproof.report.workbook.ChartPlot.Names;
import lotproof.report.workbook.ChartPlot.Numbers;
import lotproof.report.workbook.ChartPlot.Series;
import org.apache.poi.xssf.usermodel.XSSFChart;
import org.apache.poi.xssf.usermodel.XSSFDrawing;
import org.apache.poi.xssf.usermodel.XSSFSheet;
import org.apache.poi.xssf.usermodel.XSSFWorkbook;
import org.apache.xmlbeans.XmlError;
import org.apache.xmlbeans.XmlObject;
import org.apache.xmlbeans.XmlOptions;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/** Read back by the spreadsheet library, and held against the published schemas that it carries. */
class SheetChartsTest {
  private static final Axis PLAIN = new Axis("Error [g]", false);
  private static final Numbers VALUES =
      new Numbers(
          "'a b'!$B$2:$B$4",
          List.of(OptionalDouble.of(1.5), OptionalDouble.empty(), OptionalDouble.of(-1e-300)));

  @ParameterizedTest
  @EnumSource(Kind.class)
  void everyKindOfChartFollowsTheSchema(Kind kind) throws IOException {
    XSSFChart chart = chartOf(drawing(plot(kind)));
    assertThat(faults(chart.getCTChart())).isEmpty();
    assertThat(faults(chart.getCTChartSpace())).isEmpty();
    assertThat(chart.getTitleText().getString()).isEqualTo("Is <it> &amp; \"so\"?");
    String drawn = chart.getCTChart().getPlotArea().toString();
    assertThat(drawn).contains("'a b'!$B$2:$B$4");
    List<String> numbers =
        Pattern.compile("<c:numCache>.*?</c:numCache>", Pattern.DOTALL)
            .matcher(drawn)
            .results()
            .map(MatchResult::group)
            .toList();
    assertThat(numbers)
        .hasSize(kind == Kind.POINTS ? 4 : 2)
        .allSatisfy(
            cache ->
                assertThat(cache)
                    .contains("<c:ptCount val=\"3\"/>", "idx=\"0\"", "-1.0E-300")
                    .doesNotContain("idx=\"1\""));
  }

  @Test
  void logarithmicAxesFollowTheSchema() throws IOException {
    Axis axis = new Axis("Time [s]", true);
    Series line = new Series("x", VALUES, VALUES, Look.LINE, 0x000001);
    XSSFChart chart =
        chartOf(drawing(new ChartPlot(Kind.POINTS, axis, axis, List.of(line), false)));
    assertThat(faults(chart.getCTChart())).isEmpty();
    assertThat(chart.getCTChart().toString()).contains("logBase").contains("000001");
  }

  @Test
  void chartsAreDescribedForThoseWhoCannotSeeThem() throws IOException {
    XSSFDrawing drawing = drawing(plot(Kind.BARS), plot(Kind.POINTS));
    assertThat(drawing.getCharts()).hasSize(2);
    assertThat(faults(drawing.getCTDrawing())).isEmpty();
    for (var anchor : drawing.getCTDrawing().getTwoCellAnchorList()) {
      var properties = anchor.getGraphicFrame().getNvGraphicFramePr().getCNvPr();
      assertThat(properties.getDescr()).isEqualTo("It is, by 3 g.");
      assertThat(properties.getName()).startsWith("Chart ");
    }
    assertThat(
            drawing.getCTDrawing().getTwoCellAnchorList().stream()
                .map(anchor -> anchor.getGraphicFrame().getNvGraphicFramePr().getCNvPr().getId()))
        .doesNotHaveDuplicates();
  }

  private static ChartPlot plot(Kind kind) {
    boolean points = kind == Kind.POINTS;
    Names names = new Names("'a b'!$A$2:$A$4", List.of("one", "<two>", "three"));
    Look look = kind == Kind.BARS ? Look.FILL : Look.MARKERS;
    return new ChartPlot(
        kind,
        PLAIN,
        PLAIN,
        List.of(
            new Series("first", points ? VALUES : names, VALUES, look, 0x16325c),
            new Series("second", points ? VALUES : names, VALUES, look, 0xc2571a)),
        true);
  }

  private static XSSFDrawing drawing(ChartPlot... plots) throws IOException {
    ByteArrayOutputStream bytes = new ByteArrayOutputStream();
    try (XSSFWorkbook workbook = new XSSFWorkbook()) {
      XSSFSheet sheet = workbook.createSheet("a b");
      SheetCharts charts = SheetCharts.on(sheet);
      int top = 0;
      for (ChartPlot plot : plots) {
        charts.add(top, new Caption("id", "Is <it> &amp; \"so\"?", "It is, by 3 g."), plot);
        top += SheetPlan.CHART_ROWS;
      }
      workbook.write(bytes);
    }
    return new XSSFWorkbook(new ByteArrayInputStream(bytes.toByteArray()))
        .getSheetAt(0)
        .getDrawingPatriarch();
  }

  private static XSSFChart chartOf(XSSFDrawing drawing) {
    return drawing.getCharts().get(0);
  }

  private static List<String> faults(XmlObject markup) {
    List<XmlError> faults = new ArrayList<>();
    markup.validate(new XmlOptions().setErrorListener(faults));
    return faults.stream().map(XmlError::toString).toList();
  }
}
