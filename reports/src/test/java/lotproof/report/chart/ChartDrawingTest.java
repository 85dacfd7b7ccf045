package lotproof.report.chart;

import static org.assertj.core.api.Assertions.assertThat;

import java.awt.Color;
import java.io.ByteArrayInputStream;
import java.io.StringReader;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import javax.imageio.ImageIO;
import javax.xml.parsers.DocumentBuilderFactory;
import lotproof.report.TestReports;
import lotproof.report.model.Chart;
import lotproof.report.model.ChartTable;
import lotproof.report.model.FormulaValue;
import lotproof.report.model.Table;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.xml.sax.InputSource;

class ChartDrawingTest {
  private static final Pattern FAMILY = Pattern.compile("font-family: ([^;]*);");

  static Stream<Chart> charts() {
    return Stream.of(TestReports.full(), TestReports.hostile(), TestReports.empty())
        .flatMap(report -> report.charts().stream());
  }

  @ParameterizedTest
  @MethodSource("charts")
  void everyDrawingIsWellFormedAndUsesOurFontOnly(Chart chart) throws Exception {
    for (ChartSize size : ChartSize.values()) {
      String svg = ChartDrawing.of(chart, size).svgDocument();
      DocumentBuilderFactory.newInstance()
          .newDocumentBuilder()
          .parse(new InputSource(new StringReader(svg)));
      Matcher family = FAMILY.matcher(svg);
      while (family.find()) {
        assertThat(family.group(1)).isEqualTo("\"Lotproof Sans\", sans-serif");
      }
      assertThat(svg).doesNotContain("NaN").doesNotContain("Infinity");
    }
  }

  @ParameterizedTest
  @MethodSource("charts")
  void everyPictureHasItsSize(Chart chart) throws Exception {
    var image =
        ImageIO.read(new ByteArrayInputStream(ChartDrawing.of(chart, ChartSize.WIDE).png()));

    assertThat(image.getWidth()).isEqualTo(1140).isEqualTo(3 * ChartSize.WIDE.width() / 2);
    int title = ChartTitle.of(chart, ChartSize.WIDE.width()).height();
    int height = ChartSize.WIDE.height(chart) + title;
    assertThat(image.getHeight()).isEqualTo((3 * height + 1) / 2);
    // paper to the last pixel, also where the height is half a pixel
    int last = image.getRGB(image.getWidth() - 1, image.getHeight() - 1);
    assertThat(last & 0xffffff).isEqualTo(0xffffff);
  }

  @Test
  void theNumbersBehindAChartAreTheChartsOwn() {
    for (Chart chart : TestReports.full().charts()) {
      Table table = ChartTable.of(chart);
      if (chart instanceof Chart.ErrorCurves curves) {
        int points = curves.curves().stream().mapToInt(c -> c.points().size()).sum();
        assertThat(table.rows()).hasSize(points + 2 * curves.band().size());
        Chart.Point last = curves.curves().get(49).points().get(20);
        assertThat(number(table, 50 * 21 - 1, "load")).isEqualTo(last.x());
        assertThat(number(table, 50 * 21 - 1, "error")).isEqualTo(last.y());
      } else if (chart instanceof Chart.UnitSpread spread) {
        int units = spread.lots().stream().mapToInt(lot -> lot.units().size()).sum();
        assertThat(table.rows()).hasSize(units + spread.limits().size());
      } else if (chart instanceof Chart.VariationShares shares) {
        assertThat(number(table, 1, "upper"))
            .isEqualTo(shares.shares().get(1).interval().orElseThrow().upper());
      } else if (chart instanceof Chart.LevelFigures levels) {
        assertThat(number(table, 2, "safest"))
            .isEqualTo(levels.levels().get(2).safest().orElseThrow());
      } else if (chart instanceof Chart.RunOrder order) {
        assertThat(number(table, 3, "value")).isEqualTo(order.series().get(0).points().get(3).y());
        int points = order.series().stream().mapToInt(series -> series.points().size()).sum();
        assertThat(order.limits()).isNotEmpty();
        assertThat(table.rows()).hasSize(points + 2 * order.limits().size());
        Chart.Mark limit = order.limits().get(0);
        assertThat(number(table, points, "value")).isEqualTo(limit.value());
        assertThat(number(table, points + 1, "value")).isEqualTo(limit.value());
        assertThat(number(table, points + 1, "order"))
            .isGreaterThan(number(table, points, "order"));
      } else if (chart instanceof Chart.QuantilePlot plot) {
        assertThat(number(table, 7, "line"))
            .isEqualTo(
                plot.line().orElseThrow().intercept()
                    + plot.line().orElseThrow().slope() * plot.units().get(7).expected());
      } else if (chart instanceof Chart.ResidualMap map) {
        assertThat(table.rows()).hasSize(map.pairs().size());
      } else if (chart instanceof Chart.ConfidenceCurve curve) {
        assertThat(number(table, 5, "confidence"))
            .isEqualTo(curve.curves().get(0).points().get(5).y());
      }
    }
  }

  @Test
  void everyUnitIsDrawn() {
    Chart.UnitSpread spread =
        (Chart.UnitSpread)
            TestReports.full().charts().stream()
                .filter(Chart.UnitSpread.class::isInstance)
                .findFirst()
                .orElseThrow();
    String svg = ChartDrawing.of(spread, ChartSize.WIDE).inlineSvg();

    // a dot for each unit that counts, a cross for the one that does not, and the legend's two
    assertThat(filled(svg, "rgb(22,50,92)")).isEqualTo(50);
    assertThat(filled(svg, "rgb(194,87,26)")).isEqualTo(2);
  }

  @Test
  void wordsInChartsStandOutFromPaper() {
    for (Color words : List.of(Ink.TEXT, Ink.LIMIT, Ink.BAND_EDGE)) {
      float[] rgb = words.getRGBColorComponents(null);
      double luminance = 0;
      double[] weights = {0.2126, 0.7152, 0.0722};
      for (int i = 0; i < 3; i++) {
        luminance += weights[i] * Math.pow((rgb[i] + 0.055) / 1.055, 2.4);
      }
      assertThat(1.05 / (luminance + 0.05)).as(words.toString()).isGreaterThan(4.5);
    }
  }

  /** How many shapes have a fill. */
  private static int filled(String svg, String colour) {
    return svg.split(Pattern.quote("style='fill:" + colour), -1).length - 1;
  }

  private static double number(Table table, int row, String column) {
    return FormulaValue.numberIn(table.rows().get(row).cells().get(table.columnIndex(column)))
        .orElseThrow();
  }
}
