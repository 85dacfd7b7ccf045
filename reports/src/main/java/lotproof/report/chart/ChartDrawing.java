package lotproof.report.chart;

import com.pngencoder.PngEncoder;
import java.awt.Graphics2D;
import java.awt.RenderingHints;
import java.awt.geom.Rectangle2D;
import java.awt.image.BufferedImage;
import lotproof.report.model.Chart;
import lotproof.report.text.OutsideText;
import org.jfree.chart.ChartRenderingInfo;
import org.jfree.chart.JFreeChart;
import org.jfree.chart.text.TextUtils;
import org.jfree.svg.SVGGraphics2D;
import org.jfree.svg.SVGUnits;
import org.jspecify.annotations.Nullable;

/**
 * A chart drawn in one size: once as vectors, for the page and for a file of its own, and as
 * pixels.
 */
public final class ChartDrawing {
  /** A picture as wide as the text of a page then has 180 pixels an inch. */
  private static final double PIXELS_FOR_EACH_UNIT = 1.5;

  /** The last level that packs quickly: half the time of the next ones for a fifth more bytes. */
  private static final int PNG_COMPRESSION = 3;

  private static final ThreadLocal<@Nullable BufferedImage> CANVAS = new ThreadLocal<>();

  /** Letters of a usual drawing. */
  private static final int ROOM = 1 << 16;

  private static final double TALL_FROM = 0.75;
  private static final String OPENING = "<svg ";

  static {
    // turned words stay words instead of outlines: found by a search, in the font of the page
    TextUtils.setUseDrawRotatedStringWorkaround(false);
  }

  private final Chart chart;
  private final ChartSize size;
  private final JFreeChart drawing;
  private final String vectors;
  private final ChartFrame frame;

  private ChartDrawing(Chart chart, ChartSize size) {
    this.chart = chart;
    this.size = size;
    this.drawing = drawing(chart, size);
    SVGGraphics2D graphics = svgGraphics(size.height(chart), id());
    ChartRenderingInfo info = new ChartRenderingInfo(null);
    drawing.draw(graphics, area(), null, info);
    this.vectors = content(graphics);
    this.frame = ChartFrame.of(drawing.getXYPlot(), info.getPlotInfo().getDataArea());
  }

  /** Draws a chart. */
  public static ChartDrawing of(Chart chart, ChartSize size) {
    return new ChartDrawing(chart, size);
  }

  /** A drawing to be set into a page; described for those who cannot see it. */
  public String inlineSvg() {
    return opening("data-frame=\"" + frame.text() + "\" ", size.height(chart)) + vectors + "</svg>";
  }

  /** A drawing in a file of its own, with its question as title. */
  public String svgDocument() {
    ChartTitle title = ChartTitle.of(chart, size.width());
    SVGGraphics2D graphics = svgGraphics(title.height(), id() + "-words");
    title.draw(graphics);
    return "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
        + opening("xmlns=\"http://www.w3.org/2000/svg\" ", size.height(chart) + title.height())
        + "<rect width=\"100%\" height=\"100%\" fill=\"#fff\"/>"
        + content(graphics)
        + "<g transform=\"translate(0,"
        + title.height()
        + ")\">"
        + vectors
        + "</g></svg>\n";
  }

  /** A picture with three pixels for two units of length, with the chart's question as title. */
  public byte[] png() {
    ChartTitle title = ChartTitle.of(chart, size.width());
    int height = size.height(chart) + title.height();
    BufferedImage image = canvas(pixels(size.width()), pixels(height));
    Graphics2D graphics = image.createGraphics();
    try {
      graphics.setPaint(Ink.PAPER);
      graphics.fillRect(0, 0, image.getWidth(), image.getHeight());
      graphics.setRenderingHint(RenderingHints.KEY_ANTIALIASING, RenderingHints.VALUE_ANTIALIAS_ON);
      graphics.setRenderingHint(
          RenderingHints.KEY_TEXT_ANTIALIASING, RenderingHints.VALUE_TEXT_ANTIALIAS_ON);
      graphics.setRenderingHint(
          RenderingHints.KEY_FRACTIONALMETRICS, RenderingHints.VALUE_FRACTIONALMETRICS_ON);
      graphics.setRenderingHint(
          RenderingHints.KEY_STROKE_CONTROL, RenderingHints.VALUE_STROKE_PURE);
      graphics.scale(PIXELS_FOR_EACH_UNIT, PIXELS_FOR_EACH_UNIT);
      title.draw(graphics);
      graphics.translate(0, title.height());
      drawing.draw(graphics, area());
    } finally {
      graphics.dispose();
    }
    // one thread, so that the bytes do not depend on the machine
    return new PngEncoder()
        .withBufferedImage(image)
        .withMultiThreadedCompressionEnabled(false)
        .withTryIndexedEncoding(false)
        .withCompressionLevel(PNG_COMPRESSION)
        .toBytes();
  }

  private static int pixels(int length) {
    return (int) Math.ceil(length * PIXELS_FOR_EACH_UNIT);
  }

  /** Three megabytes that each core draws on again and again. */
  private static BufferedImage canvas(int width, int height) {
    BufferedImage known = CANVAS.get();
    if (known == null || known.getWidth() != width || known.getHeight() != height) {
      known = new BufferedImage(width, height, BufferedImage.TYPE_INT_RGB);
      CANVAS.set(known);
    }
    return known;
  }

  private String id() {
    return chart.caption().id() + (size == ChartSize.WIDE ? "-wide" : "-narrow");
  }

  private Rectangle2D area() {
    return new Rectangle2D.Double(0, 0, size.width(), size.height(chart));
  }

  private SVGGraphics2D svgGraphics(int height, String prefix) {
    SVGGraphics2D graphics =
        new SVGGraphics2D(size.width(), height, SVGUnits.PX, new StringBuilder(ROOM));
    graphics.setDefsKeyPrefix(prefix);
    graphics.setGeomDoubleConverter(ChartDrawing::coordinate);
    graphics.setFontFunction(family -> "\"" + family + "\", sans-serif");
    return graphics;
  }

  /** What was drawn, without the library's own opening tag: it has fixed sizes and no words. */
  private static String content(SVGGraphics2D graphics) {
    String drawn = graphics.getSVGElement();
    int from = drawn.indexOf('>', drawn.indexOf(OPENING)) + 1;
    return drawn.substring(from, drawn.lastIndexOf("</svg>"));
  }

  private String opening(String attributes, int height) {
    String id = id();
    return OPENING
        + attributes
        + "class=\""
        + (size == ChartSize.WIDE ? "wide" : "narrow")
        + (height > size.width() * TALL_FROM ? " tall" : "")
        + "\" id=\""
        + id
        + "\" role=\"img\" aria-labelledby=\""
        + id
        + "-title "
        + id
        + "-text\" viewBox=\"0 0 "
        + size.width()
        + " "
        + height
        + "\"><title id=\""
        + id
        + "-title\">"
        + escaped(chart.caption().question())
        + "</title><desc id=\""
        + id
        + "-text\">"
        + escaped(chart.caption().answer())
        + "</desc>";
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
      return LevelCharts.variationShares(shares, size);
    }
    if (chart instanceof Chart.LevelFigures levels) {
      return LevelCharts.levelFigures(levels);
    }
    if (chart instanceof Chart.NoiseStability stability) {
      return StabilityCharts.of(stability);
    }
    throw new IllegalArgumentException("unknown chart " + chart);
  }

  /** Hundredths of a unit are finer than any screen. */
  static String coordinate(double value) {
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
