package lotproof.report.workbook;

import java.util.HexFormat;
import java.util.List;
import javax.xml.stream.XMLStreamException;
import lotproof.report.workbook.ChartPlot.Axis;
import lotproof.report.workbook.ChartPlot.Keys;
import lotproof.report.workbook.ChartPlot.Kind;
import lotproof.report.workbook.ChartPlot.Look;
import lotproof.report.workbook.ChartPlot.Names;
import lotproof.report.workbook.ChartPlot.Numbers;
import lotproof.report.workbook.ChartPlot.Series;

/**
 * Markup of a chart that a spreadsheet draws from its cells (DrawingML charts, ECMA-376 part 1,
 * section 21.2). Written directly: an object for each element took longer than the rest of the
 * workbook.
 */
final class ChartMarkup {
  private static final String CHART = "http://schemas.openxmlformats.org/drawingml/2006/chart";
  private static final String DRAWING = "http://schemas.openxmlformats.org/drawingml/2006/main";
  private static final String ACROSS = "1";
  private static final String UP = "2";
  private static final String LANGUAGE = "en-GB";

  /** A line of one and a half points, in the format's units. */
  private static final String LINE_WIDTH = "19050";

  private final MarkupWriter out;
  private final String title;
  private final ChartPlot plot;

  /**
   * A chart.
   *
   * @param title the question that it answers
   */
  ChartMarkup(MarkupWriter out, String title, ChartPlot plot) {
    this.out = out;
    this.title = title;
    this.plot = plot;
  }

  void write() throws XMLStreamException {
    out.element(
        "c:chartSpace",
        () -> {
          out.value("c:roundedCorners", "0");
          out.element("c:chart", this::chart);
        },
        "xmlns:c",
        CHART,
        "xmlns:a",
        DRAWING);
  }

  private void chart() throws XMLStreamException {
    title(title);
    out.value("c:autoTitleDeleted", "0");
    out.element(
        "c:plotArea",
        () -> {
          out.empty("c:layout");
          out.element(container(), this::content);
          axes();
        });
    if (plot.legend()) {
      out.element(
          "c:legend",
          () -> {
            out.value("c:legendPos", "t");
            out.value("c:overlay", "0");
          });
    }
    out.value("c:plotVisOnly", "1");
    // a series that is shorter than another must not run on to zero
    out.value("c:dispBlanksAs", "gap");
  }

  private String container() {
    return switch (plot.kind()) {
      case POINTS -> "c:scatterChart";
      case DOTS -> "c:lineChart";
      case BARS -> "c:barChart";
    };
  }

  private void content() throws XMLStreamException {
    switch (plot.kind()) {
      case POINTS -> out.value("c:scatterStyle", "lineMarker");
      case DOTS -> out.value("c:grouping", "standard");
      case BARS -> {
        out.value("c:barDir", "bar");
        out.value("c:grouping", "clustered");
      }
    }
    out.value("c:varyColors", "0");
    List<Series> all = plot.series();
    for (int s = 0; s < all.size(); s++) {
      int number = s;
      out.element("c:ser", () -> series(number, all.get(number)));
    }
    if (plot.kind() == Kind.DOTS) {
      out.value("c:marker", "1");
    }
    boolean bars = plot.kind() == Kind.BARS;
    out.value("c:axId", bars ? UP : ACROSS);
    out.value("c:axId", bars ? ACROSS : UP);
  }

  private void series(int number, Series series) throws XMLStreamException {
    out.value("c:idx", Integer.toString(number));
    out.value("c:order", Integer.toString(number));
    out.element("c:tx", () -> out.words("c:v", series.name()));
    out.element("c:spPr", () -> shape(series));
    if (series.look() != Look.FILL) {
      out.element("c:marker", () -> marker(series));
    }
    boolean points = plot.kind() == Kind.POINTS;
    out.element(points ? "c:xVal" : "c:cat", () -> keys(series.keys()));
    out.element(points ? "c:yVal" : "c:val", () -> numbers(series.values()));
    if (series.look() != Look.FILL) {
      out.value("c:smooth", "0");
    }
  }

  private void shape(Series series) throws XMLStreamException {
    switch (series.look()) {
      case FILL -> fill(series.color());
      case LINE -> out.element("a:ln", () -> fill(series.color()), "w", LINE_WIDTH);
      case MARKERS -> out.element("a:ln", () -> out.empty("a:noFill"));
    }
  }

  private void marker(Series series) throws XMLStreamException {
    if (series.look() == Look.LINE) {
      out.value("c:symbol", "none");
      return;
    }
    out.value("c:symbol", "circle");
    out.element(
        "c:spPr",
        () -> {
          fill(series.color());
          out.element("a:ln", () -> fill(series.color()));
        });
  }

  private void fill(int color) throws XMLStreamException {
    out.element(
        "a:solidFill",
        () -> out.value("a:srgbClr", HexFormat.of().withUpperCase().toHexDigits(color, 6)));
  }

  private void keys(Keys keys) throws XMLStreamException {
    if (keys instanceof Numbers numbers) {
      numbers(numbers);
    } else if (keys instanceof Names names) {
      out.element(
          "c:strRef",
          () -> {
            out.words("c:f", names.range());
            out.element("c:strCache", () -> points(names.names()));
          });
    }
  }

  private void numbers(Numbers numbers) throws XMLStreamException {
    List<String> texts =
        numbers.numbers().stream()
            .map(number -> number.isPresent() ? Double.toString(number.getAsDouble()) : "")
            .toList();
    out.element(
        "c:numRef",
        () -> {
          out.words("c:f", numbers.range());
          out.element(
              "c:numCache",
              () -> {
                out.words("c:formatCode", "General");
                points(texts);
              });
        });
  }

  /** What the cells hold, so that the chart shows before anything is calculated. */
  private void points(List<String> texts) throws XMLStreamException {
    out.value("c:ptCount", Integer.toString(texts.size()));
    for (int i = 0; i < texts.size(); i++) {
      String text = texts.get(i);
      if (!text.isEmpty()) {
        out.element("c:pt", () -> out.words("c:v", text), "idx", Integer.toString(i));
      }
    }
  }

  private void axes() throws XMLStreamException {
    if (plot.kind() == Kind.BARS) {
      out.element("c:catAx", () -> axis(UP, "l", plot.up(), ACROSS, "autoZero"));
      out.element("c:valAx", () -> axis(ACROSS, "b", plot.across(), UP, "max"));
    } else {
      boolean names = plot.kind() == Kind.DOTS;
      out.element(names ? "c:catAx" : "c:valAx", () -> axis(ACROSS, "b", plot.across(), UP, "min"));
      out.element("c:valAx", () -> axis(UP, "l", plot.up(), ACROSS, "min"));
    }
  }

  private void axis(String id, String place, Axis axis, String other, String crosses)
      throws XMLStreamException {
    boolean bars = plot.kind() == Kind.BARS;
    boolean names = plot.kind() != Kind.POINTS && id.equals(bars ? UP : ACROSS);
    out.value("c:axId", id);
    out.element(
        "c:scaling",
        () -> {
          if (axis.logarithmic()) {
            out.value("c:logBase", "10");
          }
          // the first row on top, as in the table
          out.value("c:orientation", bars && names ? "maxMin" : "minMax");
          if (bars && !names) {
            out.value("c:min", "0");
          }
        });
    out.value("c:delete", "0");
    out.value("c:axPos", place);
    if (!axis.title().isEmpty()) {
      title(axis.title());
    }
    if (!names) {
      out.empty("c:numFmt", "formatCode", "General", "sourceLinked", "1");
    }
    out.value("c:majorTickMark", "cross");
    out.value("c:minorTickMark", "none");
    out.value("c:tickLblPos", axis.logarithmic() ? "low" : "nextTo");
    out.value("c:crossAx", other);
    out.value("c:crosses", crosses);
    if (names) {
      out.value("c:auto", "0");
    } else {
      out.value("c:crossBetween", plot.kind() == Kind.POINTS ? "midCat" : "between");
    }
  }

  private void title(String words) throws XMLStreamException {
    out.element(
        "c:title",
        () -> {
          out.element("c:tx", () -> out.element("c:rich", () -> paragraph(words)));
          out.empty("c:layout");
          out.value("c:overlay", "0");
        });
  }

  private void paragraph(String words) throws XMLStreamException {
    out.empty("a:bodyPr", "anchor", "t", "rtlCol", "0");
    out.empty("a:lstStyle");
    out.element(
        "a:p",
        () -> {
          out.element("a:pPr", () -> out.empty("a:defRPr"), "algn", "l");
          out.element(
              "a:r",
              () -> {
                out.empty("a:rPr", "lang", LANGUAGE);
                out.words("a:t", words);
              });
        });
  }
}
