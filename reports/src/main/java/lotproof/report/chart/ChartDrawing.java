package lotproof.report.chart;

import com.pngencoder.PngEncoder;
import java.awt.Graphics2D;
import java.awt.RenderingHints;
import java.awt.geom.Rectangle2D;
import java.awt.image.BufferedImage;
import java.io.StringWriter;
import java.util.Map;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import javax.xml.parsers.DocumentBuilderFactory;
import javax.xml.parsers.ParserConfigurationException;
import javax.xml.transform.OutputKeys;
import javax.xml.transform.Transformer;
import javax.xml.transform.TransformerException;
import javax.xml.transform.TransformerFactory;
import javax.xml.transform.dom.DOMSource;
import javax.xml.transform.stream.StreamResult;
import lotproof.report.ReportFont;
import lotproof.report.model.Chart;
import lotproof.report.text.SanitizedText;
import org.apache.batik.svggen.DefaultStyleHandler;
import org.apache.batik.svggen.SVGGeneratorContext;
import org.apache.batik.svggen.SVGGraphics2D;
import org.apache.batik.svggen.SVGIDGenerator;
import org.apache.batik.svggen.StyleHandler;
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
import org.w3c.dom.Document;
import org.w3c.dom.Element;

/** A chart drawn: as vectors within a page, and as files of vectors or pixels. */
public final class ChartDrawing {
  /** A picture as wide as the text of a page then has 180 pixels an inch. */
  private static final double PIXELS_FOR_EACH_UNIT = 1.5;

  /** On paper twelve units, the size of words, are eight points. */
  private static final double POINTS_FOR_EACH_UNIT = 2.0 / 3;

  /** Height of a file: on a page the question stands in the text, a file has to carry it. */
  private static final int FILE_HEIGHT = 440;

  /** The last level that packs quickly: half the time of the next ones for a fifth more bytes. */
  private static final int PNG_COMPRESSION = 3;

  private static final StyleHandler STYLES = new DefaultStyleHandler();
  private static final String FONT_FAMILY = "font-family";

  static {
    // turned words stay words instead of outlines: found by a search, in the font of the page
    TextUtils.setUseDrawRotatedStringWorkaround(false);
  }

  private static final int WIDTH = 760;

  /** Height on a page, and for each row of a chart in rows. */
  private static final int HEIGHT = 380;

  private static final int ROW_HEIGHT = 28;

  private ChartDrawing() {}

  /** A drawing to be set into a page; described for those who cannot see it. */
  public static String inlineSvg(Chart chart) {
    String id = chart.caption().id() + "-drawing";
    JFreeChart drawing = ChartPlot.of(chart);
    SVGGraphics2D graphics = svgGraphics(id);
    ChartRenderingInfo info = new ChartRenderingInfo(null);
    int height = chart.inRows() ? 110 + ROW_HEIGHT * chart.up().words().size() : HEIGHT;
    drawing.draw(graphics, area(WIDTH, height), null, info);
    String frame = frame(drawing.getXYPlot(), info.getPlotInfo().getDataArea());
    Element root = described(chart, id, height, graphics);
    root.setAttribute("data-frame", frame);
    return written(root);
  }

  /** Draws it without a title on paper, with words as large as those beside it; in points. */
  public static void draw(Chart chart, Graphics2D graphics, double width, double height) {
    graphics.scale(POINTS_FOR_EACH_UNIT, POINTS_FOR_EACH_UNIT);
    ChartPlot.of(chart)
        .draw(
            graphics,
            new Rectangle2D.Double(
                0, 0, width / POINTS_FOR_EACH_UNIT, height / POINTS_FOR_EACH_UNIT));
  }

  /** A drawing in a file of its own, with its question as title and the font it is drawn in. */
  static String svgDocument(Chart chart) {
    String id = chart.caption().id();
    SVGGraphics2D graphics = svgGraphics(id);
    titled(chart).draw(graphics, area(WIDTH, FILE_HEIGHT));
    Element root = described(chart, id, FILE_HEIGHT, graphics);
    Element style = root.getOwnerDocument().createElementNS(root.getNamespaceURI(), "style");
    style.setTextContent(ReportFont.faces());
    root.getElementsByTagName("defs").item(0).appendChild(style);
    return "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n" + written(root) + "\n";
  }

  /** A picture with three pixels for two units of length, with the chart's question as title. */
  static byte[] png(Chart chart) {
    int width = (int) (WIDTH * PIXELS_FOR_EACH_UNIT);
    int height = (int) (FILE_HEIGHT * PIXELS_FOR_EACH_UNIT);
    BufferedImage image = new BufferedImage(width, height, BufferedImage.TYPE_INT_RGB);
    Graphics2D graphics = image.createGraphics();
    try {
      graphics.setRenderingHint(
          RenderingHints.KEY_TEXT_ANTIALIASING, RenderingHints.VALUE_TEXT_ANTIALIAS_ON);
      graphics.setRenderingHint(
          RenderingHints.KEY_FRACTIONALMETRICS, RenderingHints.VALUE_FRACTIONALMETRICS_ON);
      graphics.scale(PIXELS_FOR_EACH_UNIT, PIXELS_FOR_EACH_UNIT);
      titled(chart).draw(graphics, area(WIDTH, FILE_HEIGHT));
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
    JFreeChart drawing = ChartPlot.of(chart);
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

  /** Draws words as words, in hundredths of a unit, with names that differ from chart to chart. */
  private static SVGGraphics2D svgGraphics(String id) {
    SVGGeneratorContext context = SVGGeneratorContext.createDefault(emptyDocument());
    context.setComment(null);
    var usual = new SVGGeneratorContext.GraphicContextDefaults();
    usual.setFont(ChartStyle.plain(12));
    context.setGraphicContextDefaults(usual);
    context.setPrecision(2);
    context.setIDGenerator(
        new SVGIDGenerator() {
          @Override
          public String generateID(String prefix) {
            return id + "-" + super.generateID(prefix);
          }
        });
    context.setStyleHandler(ChartDrawing::style);
    return new SVGGraphics2D(context, false);
  }

  /** The library's style, with a font for machines that lack ours. */
  private static void style(Element element, Map<?, ?> style, SVGGeneratorContext context) {
    STYLES.setStyle(element, style, context);
    if (element.hasAttribute(FONT_FAMILY)) {
      element.setAttribute(FONT_FAMILY, element.getAttribute(FONT_FAMILY) + ", sans-serif");
    }
  }

  private static Document emptyDocument() {
    try {
      return DocumentBuilderFactory.newDefaultNSInstance().newDocumentBuilder().newDocument();
    } catch (ParserConfigurationException e) {
      throw new IllegalStateException("every Java machine makes an empty document", e);
    }
  }

  /** The drawing with what it is for those who cannot see it. */
  private static Element described(Chart chart, String id, int height, SVGGraphics2D graphics) {
    Element root = graphics.getRoot();
    // the library gives it one name for all drawings of a page
    ((Element) root.getElementsByTagName("defs").item(0)).removeAttribute("id");
    root.setAttribute("id", id);
    root.setAttribute("role", "img");
    root.setAttribute("aria-labelledby", id + "-title " + id + "-text");
    root.setAttribute("viewBox", "0 0 " + WIDTH + " " + height);
    root.insertBefore(
        words("desc", id + "-text", chart.caption().answer(), root), root.getFirstChild());
    root.insertBefore(
        words("title", id + "-title", chart.caption().question(), root), root.getFirstChild());
    return root;
  }

  private static Element words(String name, String id, String text, Element root) {
    Element words = root.getOwnerDocument().createElementNS(root.getNamespaceURI(), name);
    words.setAttribute("id", id);
    words.setTextContent(SanitizedText.clean(text));
    return words;
  }

  private static String written(Element root) {
    StringWriter written = new StringWriter();
    try {
      Transformer writer = TransformerFactory.newDefaultInstance().newTransformer();
      writer.setOutputProperty(OutputKeys.OMIT_XML_DECLARATION, "yes");
      writer.transform(new DOMSource(root), new StreamResult(written));
    } catch (TransformerException e) {
      throw new IllegalStateException("a text in memory takes every drawing", e);
    }
    return written.toString();
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
}
