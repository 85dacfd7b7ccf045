package lotproof.report.chart;

import com.pngencoder.PngEncoder;
import java.awt.Graphics2D;
import java.awt.RenderingHints;
import java.awt.geom.Rectangle2D;
import java.awt.image.BufferedImage;
import lotproof.report.model.Chart;
import lotproof.report.text.OutsideText;
import org.jfree.chart.JFreeChart;
import org.jfree.chart.title.TextTitle;
import org.jfree.chart.ui.HorizontalAlignment;
import org.jfree.svg.SVGGraphics2D;

/** Draws charts, as vectors and as pixels. */
public final class ChartDrawing {
  private static final int PIXELS_FOR_EACH_UNIT = 2;
  private static final int PNG_COMPRESSION = 6;
  private static final double TALL_FROM = 0.75;
  private static final float TITLE_SIZE = 14;
  private static final String OPENING = "<svg ";

  private ChartDrawing() {}

  /** A drawing to be set into a page; described for those who cannot see it. */
  public static String inlineSvg(Chart chart, ChartSize size) {
    return svg(chart, size, "", false);
  }

  /** A drawing in a file of its own, with its question as title. */
  public static String svgDocument(Chart chart, ChartSize size) {
    return "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
        + svg(chart, size, "xmlns=\"http://www.w3.org/2000/svg\" ", true)
        + "\n";
  }

  /** A picture with two pixels for each unit of length, with the chart's question as title. */
  public static byte[] png(Chart chart, ChartSize size) {
    BufferedImage image =
        new BufferedImage(
            size.width() * PIXELS_FOR_EACH_UNIT,
            size.height(chart) * PIXELS_FOR_EACH_UNIT,
            BufferedImage.TYPE_INT_RGB);
    Graphics2D graphics = image.createGraphics();
    try {
      graphics.setRenderingHint(RenderingHints.KEY_ANTIALIASING, RenderingHints.VALUE_ANTIALIAS_ON);
      graphics.setRenderingHint(
          RenderingHints.KEY_TEXT_ANTIALIASING, RenderingHints.VALUE_TEXT_ANTIALIAS_ON);
      graphics.setRenderingHint(
          RenderingHints.KEY_FRACTIONALMETRICS, RenderingHints.VALUE_FRACTIONALMETRICS_ON);
      graphics.setRenderingHint(
          RenderingHints.KEY_STROKE_CONTROL, RenderingHints.VALUE_STROKE_PURE);
      graphics.scale(PIXELS_FOR_EACH_UNIT, PIXELS_FOR_EACH_UNIT);
      draw(chart, size, graphics, true);
    } finally {
      graphics.dispose();
    }
    // one thread, so that the bytes do not depend on the machine
    return new PngEncoder()
        .withBufferedImage(image)
        .withMultiThreadedCompressionEnabled(false)
        .withCompressionLevel(PNG_COMPRESSION)
        .toBytes();
  }

  private static String svg(Chart chart, ChartSize size, String namespace, boolean titled) {
    String id = chart.caption().id() + (size == ChartSize.WIDE ? "-wide" : "-narrow");
    SVGGraphics2D graphics = new SVGGraphics2D(size.width(), size.height(chart));
    graphics.setDefsKeyPrefix(id);
    graphics.setGeomDoubleConverter(ChartDrawing::coordinate);
    graphics.setFontFunction(family -> "\"" + family + "\", sans-serif");
    draw(chart, size, graphics, titled);
    String drawn = graphics.getSVGElement();
    // the library's own opening tag carries no description and has fixed sizes
    String content = drawn.substring(drawn.indexOf('>', drawn.indexOf(OPENING)) + 1);
    return OPENING
        + namespace
        + "class=\""
        + (size == ChartSize.WIDE ? "wide" : "narrow")
        + (size.height(chart) > size.width() * TALL_FROM ? " tall" : "")
        + "\" role=\"img\" aria-labelledby=\""
        + id
        + "-title "
        + id
        + "-text\" viewBox=\"0 0 "
        + size.width()
        + " "
        + size.height(chart)
        + "\"><title id=\""
        + id
        + "-title\">"
        + escaped(chart.caption().question())
        + "</title><desc id=\""
        + id
        + "-text\">"
        + escaped(chart.caption().answer())
        + "</desc>"
        + content;
  }

  private static void draw(Chart chart, ChartSize size, Graphics2D graphics, boolean titled) {
    JFreeChart drawing = drawing(chart, size);
    if (titled) {
      drawing.setTitle(title(chart));
    }
    drawing.draw(graphics, new Rectangle2D.Double(0, 0, size.width(), size.height(chart)));
  }

  /** On a page the title stands in the text; a file has to carry it. */
  private static TextTitle title(Chart chart) {
    TextTitle title =
        new TextTitle(OutsideText.clean(chart.caption().question()), ChartFonts.bold(TITLE_SIZE));
    title.setPaint(Ink.TEXT);
    title.setHorizontalAlignment(HorizontalAlignment.LEFT);
    title.setTextAlignment(HorizontalAlignment.LEFT);
    title.setPadding(2, 2, 6, 2);
    return title;
  }

  private static JFreeChart drawing(Chart chart, ChartSize size) {
    if (chart instanceof Chart.ErrorCurves curves) {
      return CurveCharts.errorCurves(curves);
    }
    if (chart instanceof Chart.RunOrder order) {
      return CurveCharts.runOrder(order);
    }
    if (chart instanceof Chart.ConfidenceCurve confidence) {
      return CurveCharts.confidence(confidence);
    }
    if (chart instanceof Chart.UnitSpread spread) {
      return UnitCharts.unitSpread(spread, size);
    }
    if (chart instanceof Chart.QuantilePlot plot) {
      return UnitCharts.quantiles(plot);
    }
    if (chart instanceof Chart.ResidualMap map) {
      return UnitCharts.residuals(map, size);
    }
    if (chart instanceof Chart.VariationShares shares) {
      return LevelCharts.variationShares(shares);
    }
    if (chart instanceof Chart.LevelFigures levels) {
      return LevelCharts.levelFigures(levels);
    }
    throw new IllegalArgumentException("unknown chart " + chart);
  }

  /** Hundredths of a unit are finer than any screen. */
  private static String coordinate(double value) {
    double rounded = Math.rint(value * 100) / 100;
    return rounded == Math.rint(rounded) && Math.abs(rounded) < 1e9
        ? Long.toString((long) rounded)
        : Double.toString(rounded);
  }

  private static String escaped(String text) {
    return OutsideText.clean(text)
        .replace("&", "&amp;")
        .replace("<", "&lt;")
        .replace(">", "&gt;")
        .replace("\"", "&quot;");
  }
}
