package lotproof.report.chart;

import java.awt.Color;
import java.awt.Shape;
import java.awt.Stroke;
import java.awt.geom.Line2D;
import java.math.BigDecimal;
import java.math.MathContext;
import java.math.RoundingMode;
import java.text.DecimalFormat;
import java.text.DecimalFormatSymbols;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import lotproof.report.model.Chart.Axis;
import lotproof.report.model.Chart.Curve;
import lotproof.report.model.Chart.Mark;
import lotproof.report.model.Chart.Point;
import lotproof.report.model.Quantity;
import lotproof.report.text.NumberText;
import lotproof.report.text.OutsideText;
import org.jfree.chart.JFreeChart;
import org.jfree.chart.LegendItem;
import org.jfree.chart.LegendItemCollection;
import org.jfree.chart.axis.LogAxis;
import org.jfree.chart.axis.NumberAxis;
import org.jfree.chart.axis.NumberTickUnit;
import org.jfree.chart.axis.SymbolAxis;
import org.jfree.chart.axis.TickUnits;
import org.jfree.chart.axis.ValueAxis;
import org.jfree.chart.block.BlockBorder;
import org.jfree.chart.plot.ValueMarker;
import org.jfree.chart.plot.XYPlot;
import org.jfree.chart.title.LegendTitle;
import org.jfree.chart.ui.Layer;
import org.jfree.chart.ui.RectangleAnchor;
import org.jfree.chart.ui.RectangleEdge;
import org.jfree.chart.ui.RectangleInsets;
import org.jfree.chart.ui.TextAnchor;
import org.jfree.data.Range;
import org.jfree.data.xy.XYSeries;

/** Parts that all charts share. */
final class PlotParts {
  private static final float TEXT_SIZE = 12f;
  private static final double MARGIN = 0.06;
  private static final int PLAIN_DECADE = 6;
  private static final int FAR_DECADE = 40;
  private static final double FARTHEST_LINE = 3;
  private static final int LONGEST_LABEL = 22;
  private static final RectangleInsets AROUND = new RectangleInsets(10, 6, 6, 14);

  private static final TickUnits TICKS = ticks();

  private PlotParts() {}

  /** Steps of 1, 2 and 5 in every decade, labelled the same in every country. */
  private static TickUnits ticks() {
    TickUnits units = new TickUnits();
    for (int decade = -FAR_DECADE; decade <= FAR_DECADE; decade++) {
      DecimalFormat format = format("0." + "0".repeat(Math.max(0, -decade)));
      format.setNegativePrefix("\u2212");
      format.setDecimalSeparatorAlwaysShown(false);
      for (int step : new int[] {1, 2, 5}) {
        double size = BigDecimal.valueOf(step, -decade).doubleValue();
        units.add(
            Math.abs(decade) <= PLAIN_DECADE
                ? new NumberTickUnit(size, format)
                : new FarTick(size));
      }
    }
    return units;
  }

  /** A step of an axis with very large or very small numbers. */
  private static final class FarTick extends NumberTickUnit {
    private static final long serialVersionUID = 1;

    FarTick(double size) {
      super(size);
    }

    @Override
    public String valueToString(double value) {
      BigDecimal rounded =
          new BigDecimal(value)
              .divide(new BigDecimal(getSize()), 0, RoundingMode.HALF_EVEN)
              .multiply(new BigDecimal(getSize()))
              .round(new MathContext(6))
              .stripTrailingZeros();
      if (rounded.signum() == 0) {
        return "0";
      }
      int exponent = rounded.precision() - rounded.scale() - 1;
      String mantissa = rounded.abs().movePointLeft(exponent).stripTrailingZeros().toPlainString();
      return (rounded.signum() < 0 ? "\u2212" : "") + mantissa + "e" + exponent;
    }
  }

  /** An empty plot with both axes. */
  static XYPlot plot(ValueAxis horizontal, ValueAxis vertical) {
    XYPlot plot = new XYPlot(null, horizontal, vertical, null);
    plot.setBackgroundPaint(Ink.PAPER);
    plot.setOutlineVisible(false);
    plot.setDomainGridlinePaint(Ink.GRID);
    plot.setRangeGridlinePaint(Ink.GRID);
    plot.setDomainGridlineStroke(Ink.line(0.75f));
    plot.setRangeGridlineStroke(Ink.line(0.75f));
    plot.setNoDataMessageFont(ChartFonts.plain(TEXT_SIZE));
    plot.setNoDataMessagePaint(Ink.TEXT);
    plot.setAxisOffset(RectangleInsets.ZERO_INSETS);
    return plot;
  }

  /** A whole chart; the question stands outside it, where it can be read as text. */
  static JFreeChart chart(XYPlot plot, LegendItemCollection legend) {
    JFreeChart chart = new JFreeChart(null, ChartFonts.plain(TEXT_SIZE), plot, false);
    chart.setBackgroundPaint(Ink.PAPER);
    chart.setPadding(AROUND);
    if (legend.getItemCount() > 0) {
      LegendTitle title = new LegendTitle(() -> legend);
      title.setItemFont(ChartFonts.plain(TEXT_SIZE));
      title.setItemPaint(Ink.TEXT);
      title.setPosition(RectangleEdge.TOP);
      title.setFrame(BlockBorder.NONE);
      title.setBackgroundPaint(Ink.PAPER);
      title.setItemLabelPadding(new RectangleInsets(1, 3, 1, 10));
      chart.addLegend(title);
    }
    return chart;
  }

  /** A numeric axis over exactly this range. */
  static NumberAxis axis(Axis axis, Range range) {
    NumberAxis numbers = new NumberAxis(label(axis));
    if (everyday(range)) {
      numbers.setStandardTickUnits(TICKS);
    } else {
      double step = range.getLength() / 4;
      numbers.setTickUnit(new NumberTickUnit(step, format("0.0E0")), false, true);
    }
    numbers.setAutoRangeIncludesZero(false);
    numbers.setRange(range);
    style(numbers);
    return numbers;
  }

  /** A numeric axis of fractions, labelled in per cent. */
  static NumberAxis percentAxis(Axis axis, Range range) {
    NumberAxis numbers = axis(axis, range);
    numbers.setNumberFormatOverride(format("0.#\u202F%"));
    return numbers;
  }

  /** An axis of words; when there are too many, only every so many is written. */
  static SymbolAxis words(String title, List<String> words, int room) {
    return words(title, words, room, LONGEST_LABEL);
  }

  /** The same with words of at most so many letters. */
  static SymbolAxis words(String title, List<String> words, int room, int letters) {
    String[] labels =
        words.stream().map(word -> OutsideText.abridged(word, letters)).toArray(String[]::new);
    SymbolAxis axis = new SymbolAxis(title.isEmpty() ? null : title, labels);
    axis.setRange(-0.5, Math.max(words.size(), 1) - 0.5);
    axis.setGridBandsVisible(false);
    int each = Math.max(1, (int) Math.ceil(words.size() / (double) room));
    axis.setTickUnit(new NumberTickUnit(each), false, true);
    style(axis);
    return axis;
  }

  /** A logarithmic axis over whole decades, for values above 0. */
  static LogAxis logAxis(Axis axis, List<Double> values) {
    double low = values.stream().mapToDouble(v -> v).min().orElse(1);
    double high = values.stream().mapToDouble(v -> v).max().orElse(10);
    double from = Math.pow(10, Math.floor(Math.log10(low)));
    double to = Math.pow(10, Math.ceil(Math.log10(high)));
    LogAxis numbers = new LogAxis(label(axis));
    // a hair of room, so that the marks at both ends are drawn
    numbers.setRange(from * (1 - 1e-9), (to > from ? to : 10 * from) * (1 + 1e-9));
    numbers.setTickUnit(new NumberTickUnit(1), false, true);
    numbers.setMinorTickCount(9);
    numbers.setNumberFormatOverride(format(from < 1e-3 || to > 1e6 ? "0E0" : "0.###"));
    style(numbers);
    return numbers;
  }

  private static void style(ValueAxis axis) {
    axis.setLabelFont(ChartFonts.plain(TEXT_SIZE));
    axis.setTickLabelFont(ChartFonts.plain(TEXT_SIZE));
    axis.setLabelPaint(Ink.TEXT);
    axis.setTickLabelPaint(Ink.TEXT);
    axis.setAxisLinePaint(Ink.QUIET);
    axis.setTickMarkPaint(Ink.QUIET);
  }

  /** Values with some room around them; both ends are moved apart when they are equal. */
  static Range range(List<Double> values) {
    double low = values.stream().mapToDouble(v -> v).min().orElse(0);
    double high = values.stream().mapToDouble(v -> v).max().orElse(1);
    double room = (high - low) * MARGIN;
    if (!(room > 0) || !Double.isFinite(room)) {
      room = Math.max(Math.abs(high) * MARGIN, Double.MIN_NORMAL * 1e6);
    }
    double from = low - room;
    double to = high + room;
    boolean wide = to - from > Math.ulp(Math.max(Math.abs(low), Math.abs(high))) * 1e3;
    return wide ? new Range(from, to) : new Range(low - 1, high + 1);
  }

  /** From the least to the greatest, without room around them. */
  static Range exactRange(List<Double> values) {
    double low = values.stream().mapToDouble(v -> v).min().orElse(0);
    double high = values.stream().mapToDouble(v -> v).max().orElse(1);
    return low < high ? new Range(low, high) : range(values);
  }

  /** As {@link #range}, from 0. */
  static Range rangeFromZero(List<Double> values) {
    double high = values.stream().mapToDouble(v -> v).max().orElse(1);
    double length = high > 0 ? high * (1 + 2 * MARGIN) : 1;
    return new Range(-length * MARGIN / 4, length);
  }

  /**
   * Lines that lie near enough to the values to be drawn with them; a line far out would press the
   * values into one place, so it is named in the legend instead.
   */
  static List<Mark> near(
      List<Mark> lines, List<Double> values, Axis axis, LegendItemCollection legend) {
    Range own = range(values);
    List<Mark> near = new ArrayList<>();
    for (Mark mark : lines) {
      double away =
          Math.max(own.getLowerBound() - mark.value(), mark.value() - own.getUpperBound());
      boolean alone = values.stream().distinct().count() < 2;
      if (alone || away <= FARTHEST_LINE * own.getLength()) {
        near.add(mark);
      } else {
        String value = NumberText.of(Quantity.significant(mark.value(), axis.unit(), 4));
        addLine(
            legend,
            OutsideText.abridged(mark.label(), 12) + " outside, " + value,
            Ink.dashed(1.25f, 6, 3),
            Ink.LIMIT);
      }
    }
    return near;
  }

  /** A line for a value of the vertical axis. */
  static void horizontalMark(XYPlot plot, Mark mark, Color color) {
    ValueMarker marker = marker(mark, color);
    marker.setLabelAnchor(RectangleAnchor.TOP_RIGHT);
    marker.setLabelTextAnchor(TextAnchor.BOTTOM_RIGHT);
    plot.addRangeMarker(marker, Layer.BACKGROUND);
  }

  /** A line for a value of the vertical axis, named on the left and under it. */
  static void ceilingMark(XYPlot plot, Mark mark, Color color) {
    ValueMarker marker = marker(mark, color);
    marker.setLabelAnchor(RectangleAnchor.BOTTOM_LEFT);
    marker.setLabelTextAnchor(TextAnchor.TOP_LEFT);
    plot.addRangeMarker(marker, Layer.BACKGROUND);
  }

  /** A line for a value of the horizontal axis. */
  static void uprightMark(XYPlot plot, Mark mark, Color color) {
    ValueMarker marker = marker(mark, color);
    boolean atLeft = mark.value() < plot.getDomainAxis().getRange().getCentralValue();
    marker.setLabelAnchor(atLeft ? RectangleAnchor.BOTTOM_RIGHT : RectangleAnchor.BOTTOM_LEFT);
    marker.setLabelTextAnchor(atLeft ? TextAnchor.BOTTOM_LEFT : TextAnchor.BOTTOM_RIGHT);
    plot.addDomainMarker(marker, Layer.BACKGROUND);
  }

  private static ValueMarker marker(Mark mark, Color color) {
    ValueMarker marker = new ValueMarker(mark.value(), color, Ink.dashed(1.25f, 6, 3));
    marker.setLabel(OutsideText.abridged(mark.label(), 2 * LONGEST_LABEL));
    marker.setLabelFont(ChartFonts.plain(TEXT_SIZE - 1));
    marker.setLabelPaint(color);
    marker.setLabelBackgroundColor(new Color(255, 255, 255, 0));
    marker.setLabelOffset(new RectangleInsets(2, 3, 2, 3));
    return marker;
  }

  /** A series with the points of a curve, joined in their own order. */
  static XYSeries series(int index, List<Point> points) {
    XYSeries series = new XYSeries(index, false, true);
    points.forEach(point -> series.add(point.x(), point.y(), false));
    return series;
  }

  /** All coordinates of the curves on one axis. */
  static List<Double> coordinates(List<Curve> curves, boolean horizontal) {
    List<Double> values = new ArrayList<>();
    for (Curve curve : curves) {
      curve.points().forEach(point -> values.add(horizontal ? point.x() : point.y()));
    }
    return values;
  }

  /** Adds a mark to a legend. */
  static void addMark(LegendItemCollection legend, String label, Shape shape, Color color) {
    LegendItem item =
        new LegendItem(
            OutsideText.abridged(label, 2 * LONGEST_LABEL), null, null, null, shape, color);
    legend.add(item);
  }

  /** Adds a line to a legend. */
  static void addLine(LegendItemCollection legend, String label, Stroke stroke, Color color) {
    LegendItem item =
        new LegendItem(
            OutsideText.abridged(label, 2 * LONGEST_LABEL),
            null,
            null,
            null,
            new Line2D.Double(-10, 0, 10, 0),
            stroke,
            color);
    legend.add(item);
  }

  /** Title of an axis with its unit. */
  static String label(Axis axis) {
    return OutsideText.clean(axis.label());
  }

  private static boolean everyday(Range range) {
    double largest = Math.max(Math.abs(range.getLowerBound()), Math.abs(range.getUpperBound()));
    double decade = Math.pow(10, FAR_DECADE);
    return largest < 1e6 * range.getLength() && largest < decade && largest > 10 / decade;
  }

  private static DecimalFormat format(String pattern) {
    return new DecimalFormat(pattern, DecimalFormatSymbols.getInstance(Locale.ROOT));
  }
}
