package lotproof.report.chart;

import com.pngencoder.PngEncoder;
import java.awt.Graphics2D;
import java.awt.RenderingHints;
import java.awt.geom.Rectangle2D;
import java.awt.image.BufferedImage;
import java.util.Locale;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import lotproof.report.model.Chart;
import lotproof.report.text.SanitizedText;
import org.jfree.chart.ChartRenderingInfo;
import org.jfree.chart.JFreeChart;
import org.jfree.chart.axis.LogAxis;
import org.jfree.chart.axis.ValueAxis;
import org.jfree.chart.block.BlockBorder;
import org.jfree.chart.plot.XYPlot;
import org.jfree.chart.text.TextUtils;
import org.jfree.chart.title.TextTitle;
import org.jfree.chart.ui.HorizontalAlignment;
import org.jfree.chart.ui.RectangleInsets;
import org.jfree.svg.SVGGraphics2D;
import org.jfree.svg.SVGUnits;

/** A chart drawn: as vectors within a page, and as files of vectors or pixels. */
public final class ChartDrawing {
  /** A picture as wide as the text of a page then has 180 pixels an inch. */
  private static final double PIXELS_FOR_EACH_UNIT = 1.5;

  /** Height of a file: on a page the question stands in the text, a file has to carry it. */
  private static final int FILE_HEIGHT = 440;

  /** The last level that packs quickly: half the time of the next ones for a fifth more bytes. */
  private static final int PNG_COMPRESSION = 3;

  static {
    // turned words stay words instead of outlines: found by a search, in the font of the page
    TextUtils.setUseDrawRotatedStringWorkaround(false);
  }

  /** Sizes that charts are drawn in. A phone gets its own drawing, so that words stay readable. */
  public enum Size {
    /** For a desk and for print. */
    WIDE(760, 400),

    /** For a phone. */
    NARROW(380, 360);

    private final int width;
    private final int height;

    Size(int width, int height) {
      this.width = width;
      this.height = height;
    }
  }

  private ChartDrawing() {}

  /** A drawing to be set into a page; described for those who cannot see it. */
  public static String inlineSvg(Chart chart, Size size) {
    String id = chart.caption().id() + "-" + size.name().toLowerCase(Locale.ROOT);
    JFreeChart drawing = ChartPlot.of(chart, size);
    SVGGraphics2D graphics = svgGraphics(size.width, size.height, id);
    ChartRenderingInfo info = new ChartRenderingInfo(null);
    drawing.draw(graphics, area(size.width, size.height), null, info);
    String frame = frame(drawing.getXYPlot(), info.getPlotInfo().getDataArea());
    String drawn = size.name().toLowerCase(Locale.ROOT);
    return described(chart, id, "class=\"" + drawn + "\" data-frame=\"" + frame + "\"", graphics);
  }

  /** A drawing in a file of its own, with its question as title. */
  static String svgDocument(Chart chart) {
    SVGGraphics2D graphics = svgGraphics(Size.WIDE.width, FILE_HEIGHT, chart.caption().id());
    titled(chart).draw(graphics, area(Size.WIDE.width, FILE_HEIGHT));
    return "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
        + described(chart, chart.caption().id(), "xmlns=\"http://www.w3.org/2000/svg\"", graphics)
        + "\n";
  }

  /** A picture with three pixels for two units of length, with the chart's question as title. */
  static byte[] png(Chart chart) {
    int width = (int) (Size.WIDE.width * PIXELS_FOR_EACH_UNIT);
    int height = (int) (FILE_HEIGHT * PIXELS_FOR_EACH_UNIT);
    BufferedImage image = new BufferedImage(width, height, BufferedImage.TYPE_INT_RGB);
    Graphics2D graphics = image.createGraphics();
    try {
      graphics.setRenderingHint(
          RenderingHints.KEY_TEXT_ANTIALIASING, RenderingHints.VALUE_TEXT_ANTIALIAS_ON);
      graphics.setRenderingHint(
          RenderingHints.KEY_FRACTIONALMETRICS, RenderingHints.VALUE_FRACTIONALMETRICS_ON);
      graphics.scale(PIXELS_FOR_EACH_UNIT, PIXELS_FOR_EACH_UNIT);
      titled(chart).draw(graphics, area(Size.WIDE.width, FILE_HEIGHT));
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

  private static JFreeChart titled(Chart chart) {
    JFreeChart drawing = ChartPlot.of(chart, Size.WIDE);
    TextTitle title =
        new TextTitle(SanitizedText.clean(chart.caption().question()), ChartStyle.bold(14));
    title.setPaint(ChartStyle.TEXT);
    title.setFrame(BlockBorder.NONE);
    title.setHorizontalAlignment(HorizontalAlignment.LEFT);
    title.setTextAlignment(HorizontalAlignment.LEFT);
    title.setPadding(new RectangleInsets(0, 4, 8, 4));
    drawing.setTitle(title);
    return drawing;
  }

  private static Rectangle2D area(int width, int height) {
    return new Rectangle2D.Double(0, 0, width, height);
  }

  private static SVGGraphics2D svgGraphics(int width, int height, String prefix) {
    SVGGraphics2D graphics = new SVGGraphics2D(width, height, SVGUnits.PX);
    graphics.setDefsKeyPrefix(prefix);
    graphics.setGeomDoubleConverter(ChartDrawing::coordinate);
    graphics.setFontFunction(family -> "\"" + family + "\", sans-serif");
    return graphics;
  }

  /** What was drawn within an opening tag of ours: the library's has fixed sizes and no words. */
  private static String described(
      Chart chart, String id, String attributes, SVGGraphics2D graphics) {
    String drawn = graphics.getSVGElement();
    int from = drawn.indexOf('>', drawn.indexOf("<svg ")) + 1;
    return String.format(
        Locale.ROOT,
        "<svg %4$s id=\"%1$s\" role=\"img\" aria-labelledby=\"%1$s-title %1$s-text\""
            + " viewBox=\"0 0 %2$.0f %3$.0f\"><title id=\"%1$s-title\">%5$s</title>"
            + "<desc id=\"%1$s-text\">%6$s</desc>%7$s",
        id,
        graphics.getWidth(),
        graphics.getHeight(),
        attributes,
        escaped(chart.caption().question()),
        escaped(chart.caption().answer()),
        drawn.substring(from));
  }

  /**
   * Where values lie on a drawing: left, top, right and bottom edge of the plot and the values
   * there, logarithms on logarithmic axes. All axes are straight scales, so that this says
   * everything.
   */
  private static String frame(XYPlot plot, Rectangle2D area) {
    return Stream.of(
            coordinate(area.getMinX()),
            coordinate(area.getMinY()),
            coordinate(area.getMaxX()),
            coordinate(area.getMaxY()),
            end(plot.getDomainAxis(), false),
            end(plot.getDomainAxis(), true),
            end(plot.getRangeAxis(), false),
            end(plot.getRangeAxis(), true))
        .collect(Collectors.joining(" "));
  }

  private static String end(ValueAxis axis, boolean last) {
    double value = last == axis.isInverted() ? axis.getLowerBound() : axis.getUpperBound();
    return Double.toString(axis instanceof LogAxis ? Math.log10(value) : value);
  }

  /** Hundredths of a unit are finer than any screen. */
  private static String coordinate(double value) {
    double rounded = Math.rint(value * 100) / 100;
    return rounded == Math.rint(rounded) && Math.abs(rounded) < 1e9
        ? Long.toString((long) rounded)
        : Double.toString(rounded);
  }

  private static String escaped(String text) {
    return SanitizedText.clean(text)
        .replace("&", "&amp;")
        .replace("<", "&lt;")
        .replace(">", "&gt;")
        .replace("\"", "&quot;");
  }
}
