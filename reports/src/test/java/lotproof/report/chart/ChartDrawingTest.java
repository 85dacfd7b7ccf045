package lotproof.report.chart;

import static org.assertj.core.api.Assertions.assertThat;

import java.awt.Color;
import java.io.ByteArrayInputStream;
import java.io.StringReader;
import java.util.List;
import java.util.regex.Pattern;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import javax.imageio.ImageIO;
import javax.xml.parsers.DocumentBuilderFactory;
import lotproof.report.TestReports;
import lotproof.report.model.Cell;
import lotproof.report.model.Chart;
import lotproof.report.model.ChartTable;
import lotproof.report.model.Table;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.w3c.dom.Document;
import org.w3c.dom.Element;
import org.w3c.dom.Node;
import org.xml.sax.InputSource;

class ChartDrawingTest {
  private static final Pattern FAMILY = Pattern.compile("font-family=\"([^\"]*)\"");

  static Stream<Chart> charts() {
    return Stream.of(TestReports.full(), TestReports.hostile(), TestReports.empty())
        .flatMap(report -> report.charts().stream());
  }

  @ParameterizedTest
  @MethodSource("charts")
  void everyDrawingIsWellFormedAndUsesOurFontOnly(Chart chart) throws Exception {
    String svg = ChartDrawing.inlineSvg(chart);
    parsed(svg);
    assertThat(FAMILY.matcher(svg).results().map(family -> family.group(1)))
        .isNotEmpty()
        .containsOnly("'Lotproof Sans', sans-serif");
    assertThat(svg).doesNotContain("NaN").doesNotContain("Infinity");
  }

  @ParameterizedTest
  @MethodSource("charts")
  void aFileCarriesTheFontItIsDrawnIn(Chart chart) throws Exception {
    String svg = ChartDrawing.svgDocument(chart);
    parsed(svg);
    assertThat(svg.split("src: url\\(data:font/woff2;base64,", -1)).hasSize(3);
    assertThat(ChartDrawing.inlineSvg(chart)).doesNotContain("font-face");
  }

  @ParameterizedTest
  @MethodSource("charts")
  void everyPictureHasItsSize(Chart chart) throws Exception {
    var image = ImageIO.read(new ByteArrayInputStream(ChartDrawing.png(chart)));

    assertThat(image.getWidth()).isEqualTo(1140);
    assertThat(image.getHeight()).isEqualTo(660);
    // paper to the last pixel
    int last = image.getRGB(image.getWidth() - 1, image.getHeight() - 1);
    assertThat(last & 0xffffff).isEqualTo(0xffffff);
  }

  @Test
  void theNumbersBehindAChartAreTheChartsOwn() {
    for (Chart chart : TestReports.full().charts()) {
      Table table = ChartTable.of(chart);
      if (chart.inRows()) {
        for (int s = 0; s < chart.series().size(); s++) {
          for (Chart.Point point : chart.series().get(s).points()) {
            Table.Row row = table.rows().get((int) point.y());
            assertThat(number(row, s + 1)).isEqualTo(point.x());
          }
        }
        assertThat(table.rows()).hasSameSizeAs(chart.up().words());
        continue;
      }
      int last = table.columns().size() - 1;
      for (int i = 0; i < chart.points().size(); i++) {
        Chart.Point point = chart.points().get(i);
        assertThat(number(table.rows().get(i), last)).isEqualTo(point.y());
        if (chart.across().ofWords()) {
          assertThat(table.rows().get(i).cells().get(last - 1))
              .isEqualTo(Cell.text(chart.across().words().get((int) Math.rint(point.x()))));
        } else {
          assertThat(number(table.rows().get(i), last - 1)).isEqualTo(point.x());
        }
      }
      // a line is two points, so that a spreadsheet can draw it
      int each = chart.across().ofWords() ? 1 : 2;
      assertThat(table.rows()).hasSize(chart.points().size() + each * chart.marks().size());
      for (int m = 0; m < chart.marks().size(); m++) {
        Chart.Mark mark = chart.marks().get(m);
        Table.Row row = table.rows().get(chart.points().size() + each * m);
        assertThat(number(row, mark.upright() ? last - 1 : last)).isEqualTo(mark.value());
      }
    }
  }

  @Test
  void everyUnitIsDrawn() throws Exception {
    Chart spread =
        TestReports.full().charts().stream()
            .filter(chart -> chart.caption().id().equals("unit-spread"))
            .findFirst()
            .orElseThrow();
    Document svg = parsed(ChartDrawing.inlineSvg(spread));

    // a dot for each unit that counts, another mark for the one that does not, and the legend's two
    assertThat(filled(svg, "rgb(22,50,92)")).isEqualTo(50);
    assertThat(filled(svg, "rgb(194,87,26)")).isEqualTo(2);
  }

  @Test
  void wordsInChartsStandOutFromPaper() {
    for (Color words : List.of(ChartStyle.TEXT, ChartStyle.LIMIT, ChartStyle.BAND_EDGE)) {
      float[] rgb = words.getRGBColorComponents(null);
      double luminance = 0;
      double[] weights = {0.2126, 0.7152, 0.0722};
      for (int i = 0; i < 3; i++) {
        luminance += weights[i] * Math.pow((rgb[i] + 0.055) / 1.055, 2.4);
      }
      assertThat(1.05 / (luminance + 0.05)).as(words.toString()).isGreaterThan(4.5);
    }
  }

  private static Document parsed(String svg) throws Exception {
    return DocumentBuilderFactory.newInstance()
        .newDocumentBuilder()
        .parse(new InputSource(new StringReader(svg)));
  }

  /** How many shapes have a fill, of their own or of the group they stand in. */
  private static long filled(Document svg, String colour) {
    return Stream.of("circle", "ellipse", "polygon", "path", "rect")
        .map(svg::getElementsByTagName)
        .flatMap(found -> IntStream.range(0, found.getLength()).mapToObj(found::item))
        .filter(shape -> fill(shape).equals(colour))
        .count();
  }

  private static String fill(Node shape) {
    String own = shape instanceof Element element ? element.getAttribute("fill") : "none";
    return own.isEmpty() ? fill(shape.getParentNode()) : own;
  }

  private static double number(Table.Row row, int column) {
    return row.cells().get(column).number().orElseThrow();
  }
}
