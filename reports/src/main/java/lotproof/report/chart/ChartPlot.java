package lotproof.report.chart;

import java.awt.Color;
import java.awt.Shape;
import java.awt.Stroke;
import java.awt.geom.Line2D;
import java.awt.geom.Path2D;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import lotproof.report.model.Chart;
import lotproof.report.model.Chart.Look;
import lotproof.report.model.Chart.Mark;
import lotproof.report.model.Chart.Point;
import lotproof.report.model.Chart.Scale;
import lotproof.report.model.Chart.Series;
import lotproof.report.model.Quantity;
import lotproof.report.text.PlainText;
import lotproof.report.text.SanitizedText;
import org.jfree.chart.JFreeChart;
import org.jfree.chart.LegendItem;
import org.jfree.chart.LegendItemCollection;
import org.jfree.chart.annotations.XYLineAnnotation;
import org.jfree.chart.annotations.XYShapeAnnotation;
import org.jfree.chart.annotations.XYTextAnnotation;
import org.jfree.chart.axis.ValueAxis;
import org.jfree.chart.block.BlockBorder;
import org.jfree.chart.plot.SeriesRenderingOrder;
import org.jfree.chart.plot.ValueMarker;
import org.jfree.chart.plot.XYPlot;
import org.jfree.chart.renderer.xy.XYLineAndShapeRenderer;
import org.jfree.chart.title.LegendTitle;
import org.jfree.chart.ui.Layer;
import org.jfree.chart.ui.RectangleAnchor;
import org.jfree.chart.ui.RectangleEdge;
import org.jfree.chart.ui.RectangleInsets;
import org.jfree.chart.ui.TextAnchor;
import org.jfree.data.Range;
import org.jfree.data.xy.XYSeries;
import org.jfree.data.xy.XYSeriesCollection;

/** Draws any chart with the chart library. */
final class ChartPlot {
  private static final double DOT = 6.5;
  private static final double LARGE_DOT = 10;
  private static final float RUN_DOT = 4f;
  private static final int LONGEST_LABEL = 44;
  private static final int LONGEST_SERIAL = 28;
  private static final int NAMED_EXTREMES = 2;

  /** A line further from the values than so many times their extent is named in the legend. */
  private static final double FARTHEST_LINE = 3;

  private static final Stroke DASHES = ChartStyle.dashed(1.25f, 6, 3);
  private static final RectangleInsets AROUND = new RectangleInsets(10, 6, 6, 14);

  private final Chart chart;
  private final LegendItemCollection legend = new LegendItemCollection();
  private final Set<String> named = new HashSet<>();
  private final XYSeriesCollection data = new XYSeriesCollection();
  private final XYLineAndShapeRenderer renderer = new XYLineAndShapeRenderer(false, false);
  private final XYPlot plot;

  private ChartPlot(Chart chart) {
    this.chart = chart;
    List<Double> xs = values(false);
    List<Double> ys = values(true);
    List<Mark> near = new ArrayList<>();
    for (Mark mark : chart.marks()) {
      List<Double> values = mark.upright() ? xs : ys;
      if (isNear(mark, values)) {
        near.add(mark);
      } else {
        String unit = (mark.upright() ? chart.across() : chart.up()).unit();
        String value = PlainText.of(Quantity.significant(mark.value(), unit, 4));
        String label = SanitizedText.abridged(mark.label(), 12) + " outside, " + value;
        addLine(label, DASHES, ChartStyle.LIMIT);
      }
    }
    near.forEach(mark -> (mark.upright() ? xs : ys).add(mark.value()));
    plot =
        new XYPlot(
            data, ChartAxes.across(chart.across(), xs), ChartAxes.up(chart.up(), ys), renderer);
    near.forEach(this::addMark);
  }

  static JFreeChart of(Chart chart) {
    return new ChartPlot(chart).drawn();
  }

  private JFreeChart drawn() {
    plot.setBackgroundPaint(ChartStyle.PAPER);
    plot.setOutlineVisible(false);
    plot.setDomainGridlinePaint(ChartStyle.GRID);
    plot.setRangeGridlinePaint(ChartStyle.GRID);
    plot.setDomainGridlineStroke(ChartStyle.line(0.75f));
    plot.setRangeGridlineStroke(ChartStyle.line(0.75f));
    plot.setDomainGridlinesVisible(!chart.across().ofWords());
    plot.setAxisOffset(RectangleInsets.ZERO_INSETS);
    plot.setSeriesRenderingOrder(SeriesRenderingOrder.FORWARD);
    renderer.setDrawSeriesLineAsPath(true);
    fillBand();
    boolean together = addRuns();
    int told = 0;
    List<Point> from = List.of();
    for (Series series : chart.series()) {
      if (series.look() == Look.FROM) {
        from = series.points();
      } else if (!(together && series.look() == Look.RUN) && !series.points().isEmpty()) {
        addSeries(series, told, from);
        told += lineOf(series.look()).isPresent() ? 0 : 1;
      }
    }
    nameExtremes();
    JFreeChart drawn = new JFreeChart(null, ChartStyle.plain(ChartAxes.TEXT_SIZE), plot, false);
    drawn.setBackgroundPaint(ChartStyle.PAPER);
    drawn.setPadding(AROUND);
    if (legend.getItemCount() > 1) {
      drawn.addLegend(legendTitle());
    }
    return drawn;
  }

  private LegendTitle legendTitle() {
    LegendTitle title = new LegendTitle(() -> legend);
    title.setItemFont(ChartStyle.plain(ChartAxes.TEXT_SIZE));
    title.setItemPaint(ChartStyle.TEXT);
    title.setPosition(RectangleEdge.TOP);
    title.setFrame(BlockBorder.NONE);
    title.setBackgroundPaint(ChartStyle.PAPER);
    title.setItemLabelPadding(new RectangleInsets(1, 3, 1, 10));
    return title;
  }

  private List<Double> values(boolean up) {
    return new ArrayList<>(
        chart.points().stream().map(point -> up ? point.y() : point.x()).toList());
  }

  private static boolean isNear(Mark mark, List<Double> values) {
    Range own = ChartAxes.range(values);
    double away = Math.max(own.getLowerBound() - mark.value(), mark.value() - own.getUpperBound());
    boolean alone = values.stream().distinct().count() < 2;
    return alone || away <= FARTHEST_LINE * own.getLength();
  }

  /** A line that is drawn alike wherever it stands. */
  private static Optional<Stroke> lineOf(Look look) {
    return switch (look) {
      case MODEL, EDGE, WANTED -> Optional.of(DASHES);
      case LINE, DOTTED_LINE, DOTS, RUN, FROM, BARS -> Optional.empty();
    };
  }

  /**
   * Draws the dots of all runs as one path of lines without length, so that a drawing of many runs
   * stays small; nothing where they have no extent.
   */
  private boolean addRuns() {
    Path2D dots = new Path2D.Double();
    chart.series().stream()
        .filter(series -> series.look() == Look.RUN)
        .flatMap(series -> series.points().stream())
        .forEach(
            point -> {
              dots.moveTo(point.x(), point.y());
              dots.lineTo(point.x(), point.y());
            });
    if (dots.getBounds2D().isEmpty()) {
      return false;
    }
    Stroke round = ChartStyle.round(RUN_DOT);
    renderer.addAnnotation(new XYShapeAnnotation(dots, round, ChartStyle.RUN), Layer.BACKGROUND);
    Shape dot = ChartStyle.mark(0, RUN_DOT);
    addItem("runs", new LegendItem("runs", null, null, null, dot, ChartStyle.RUN));
    return true;
  }

  private void addSeries(Series series, int told, List<Point> from) {
    int index = data.getSeriesCount();
    XYSeries points = new XYSeries(index, false, true);
    series.points().forEach(p -> points.add(p.x(), p.y(), false));
    data.addSeries(points);
    Look look = series.look();
    boolean dots = look == Look.DOTS || look == Look.RUN;
    boolean joined = !dots && look != Look.BARS;
    Stroke line = lineOf(look).orElse(ChartStyle.line(told, 2f));
    Color color =
        switch (look) {
          case MODEL, EDGE -> ChartStyle.BAND_EDGE;
          case WANTED -> ChartStyle.LIMIT;
          default -> ChartStyle.series(told);
        };
    Shape dot = ChartStyle.mark(told, chart.inRows() ? LARGE_DOT : DOT);
    renderer.setSeriesLinesVisible(index, joined);
    renderer.setSeriesShapesVisible(index, dots || look == Look.DOTTED_LINE);
    renderer.setSeriesStroke(index, line);
    renderer.setSeriesPaint(index, color);
    renderer.setSeriesShape(index, dot);
    if (joined) {
      addLine(series.name(), line, color);
    } else {
      addItem(series.name(), new LegendItem(label(series.name()), null, null, null, dot, color));
    }
    if (look == Look.BARS) {
      for (int i = 0; i < series.points().size(); i++) {
        Point end = series.points().get(i);
        double start = from.isEmpty() ? 0 : from.get(i).x();
        renderer.addAnnotation(
            new XYLineAnnotation(start, end.y(), end.x(), end.y(), ChartStyle.line(12f), color),
            Layer.BACKGROUND);
      }
    }
  }

  /** The area between two edges; on logarithmic axes it would not follow them. */
  private void fillBand() {
    List<Series> edges = chart.series().stream().filter(s -> s.look() == Look.EDGE).toList();
    boolean logarithmic = chart.up().scale() == Scale.LOGARITHMIC;
    if (edges.size() != 2 || edges.get(0).points().isEmpty() || logarithmic) {
      return;
    }
    Path2D area = new Path2D.Double();
    List<Point> lower = edges.get(0).points();
    area.moveTo(lower.get(0).x(), lower.get(0).y());
    lower.forEach(point -> area.lineTo(point.x(), point.y()));
    List<Point> upper = edges.get(1).points();
    for (int i = upper.size() - 1; i >= 0; i--) {
      area.lineTo(upper.get(i).x(), upper.get(i).y());
    }
    area.closePath();
    if (!area.getBounds2D().isEmpty()) {
      renderer.addAnnotation(
          new XYShapeAnnotation(area, null, null, ChartStyle.BAND), Layer.BACKGROUND);
    }
  }

  /** Names the points furthest out, where each point is a unit at a place of its own. */
  private void nameExtremes() {
    if (chart.across().ofWords() || chart.up().ofWords()) {
      return;
    }
    List<Point> points = chart.points().stream().filter(p -> !p.label().isEmpty()).toList();
    double middle =
        points.stream()
            .mapToDouble(Point::x)
            .sorted()
            .skip(points.size() / 2)
            .findFirst()
            .orElse(0);
    points.stream()
        .sorted(
            Comparator.comparingDouble((Point p) -> -Math.abs(p.x() - middle))
                .thenComparing(Point::label))
        .limit(NAMED_EXTREMES)
        .forEach(point -> name(point, point.x() < middle));
  }

  private void name(Point point, boolean left) {
    String blanks = "\u00A0\u00A0";
    String label = SanitizedText.abridged(point.label(), LONGEST_SERIAL);
    XYTextAnnotation name =
        new XYTextAnnotation(left ? blanks + label : label + blanks, point.x(), point.y());
    name.setFont(ChartStyle.plain(11f));
    name.setPaint(ChartStyle.TEXT);
    name.setTextAnchor(left ? TextAnchor.TOP_LEFT : TextAnchor.BOTTOM_RIGHT);
    plot.addAnnotation(name);
  }

  /** A line across, with its name at the end where there is more room. */
  private void addMark(Mark mark) {
    ValueMarker marker = new ValueMarker(mark.value(), ChartStyle.LIMIT, DASHES);
    marker.setLabel(label(mark.label()));
    marker.setLabelFont(ChartStyle.plain(ChartAxes.TEXT_SIZE - 1));
    marker.setLabelPaint(ChartStyle.LIMIT);
    marker.setLabelBackgroundColor(new Color(255, 255, 255, 0));
    marker.setLabelOffset(new RectangleInsets(2, 3, 2, 3));
    ValueAxis axis = mark.upright() ? plot.getDomainAxis() : plot.getRangeAxis();
    boolean low = mark.value() < axis.getRange().getCentralValue();
    if (mark.upright()) {
      marker.setLabelAnchor(low ? RectangleAnchor.BOTTOM_RIGHT : RectangleAnchor.BOTTOM_LEFT);
      marker.setLabelTextAnchor(low ? TextAnchor.BOTTOM_LEFT : TextAnchor.BOTTOM_RIGHT);
      plot.addDomainMarker(marker, Layer.BACKGROUND);
    } else {
      // near the top there is no room above the line
      double above = axis.getUpperBound() - mark.value();
      boolean top = above < 0.06 * axis.getRange().getLength();
      marker.setLabelAnchor(top ? RectangleAnchor.BOTTOM_LEFT : RectangleAnchor.TOP_RIGHT);
      marker.setLabelTextAnchor(top ? TextAnchor.TOP_LEFT : TextAnchor.BOTTOM_RIGHT);
      plot.addRangeMarker(marker, Layer.BACKGROUND);
    }
  }

  private void addLine(String name, Stroke stroke, Color color) {
    Shape sample = new Line2D.Double(-10, 0, 10, 0);
    addItem(name, new LegendItem(label(name), null, null, null, sample, stroke, color));
  }

  private void addItem(String name, LegendItem item) {
    if (named.add(name)) {
      legend.add(item);
    }
  }

  private static String label(String name) {
    return SanitizedText.abridged(name, LONGEST_LABEL);
  }
}
