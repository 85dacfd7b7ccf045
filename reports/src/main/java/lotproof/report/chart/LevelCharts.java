package lotproof.report.chart;

import java.awt.Color;
import java.awt.Shape;
import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import java.util.function.Function;
import lotproof.report.model.Chart.LevelFigure;
import lotproof.report.model.Chart.LevelFigures;
import lotproof.report.model.Chart.Share;
import lotproof.report.model.Chart.VariationShares;
import lotproof.report.model.Quantity;
import lotproof.report.text.NumberText;
import org.jfree.chart.JFreeChart;
import org.jfree.chart.LegendItemCollection;
import org.jfree.chart.annotations.XYAnnotation;
import org.jfree.chart.annotations.XYLineAnnotation;
import org.jfree.chart.annotations.XYTextAnnotation;
import org.jfree.chart.axis.SymbolAxis;
import org.jfree.chart.plot.XYPlot;
import org.jfree.chart.renderer.xy.XYLineAndShapeRenderer;
import org.jfree.chart.ui.Layer;
import org.jfree.chart.ui.TextAnchor;
import org.jfree.data.Range;
import org.jfree.data.xy.XYSeries;
import org.jfree.data.xy.XYSeriesCollection;

/** Charts with a line of words for each row. */
final class LevelCharts {
  private static final double DOT = 10;
  private static final double OFFSET = 0.14;
  private static final int ROOM = 14;
  private static final double LEGEND_HEIGHT = 13;
  private static final double ROOM_FOR_WORDS = 1.22;

  private LevelCharts() {}

  static JFreeChart variationShares(VariationShares chart, ChartSize size) {
    List<Double> values = new ArrayList<>();
    chart.shares().forEach(share -> values.add(share.value()));
    chart.shares().forEach(share -> share.interval().ifPresent(i -> values.add(i.upper())));
    SymbolAxis names =
        PlotParts.words(
            "",
            chart.shares().stream().map(Share::component).toList(),
            ROOM,
            size == ChartSize.WIDE ? 36 : 20);
    names.setInverted(true);
    XYPlot plot =
        PlotParts.plot(PlotParts.axis(chart.value(), PlotParts.rangeFromZero(values)), names);
    LegendItemCollection legend = new LegendItemCollection();
    Marks marks = new Marks(plot, legend);
    XYSeries estimated = new XYSeries(0, false, true);
    XYSeries boundary = new XYSeries(1, false, true);
    for (int row = 0; row < chart.shares().size(); row++) {
      Share share = chart.shares().get(row);
      (share.atBoundary() ? boundary : estimated).add(share.value(), row, false);
      int at = row;
      if (share.interval().isEmpty()) {
        marks.under(new XYLineAnnotation(0, at, share.value(), at, Ink.line(4f), Ink.series(2)));
      }
      share
          .interval()
          .ifPresent(
              i ->
                  marks.under(
                      new XYLineAnnotation(
                          i.lower(), at, i.upper(), at, Ink.line(4f), Ink.series(2))));
    }
    marks.add(estimated, "estimate", Ink.mark(0, DOT), Ink.series(0));
    marks.add(boundary, "at 0: not told from nothing", Ink.diamond(DOT + 2), Ink.series(1));
    boolean intervals = chart.shares().stream().anyMatch(share -> share.interval().isPresent());
    if (intervals) {
      PlotParts.addLine(legend, "interval", Ink.line(3f), Ink.series(2));
    }
    marks.draw();
    boolean plain = !intervals && boundary.isEmpty();
    return PlotParts.chart(plot, plain ? new LegendItemCollection() : legend);
  }

  static JFreeChart levelFigures(LevelFigures chart) {
    List<Double> values = new ArrayList<>();
    for (LevelFigure level : chart.levels()) {
      level.safest().ifPresent(values::add);
      level.withoutExclusions().ifPresent(values::add);
      level.wanted().ifPresent(values::add);
    }
    SymbolAxis names =
        PlotParts.words("", chart.levels().stream().map(LevelFigure::level).toList(), ROOM);
    names.setInverted(true);
    Range marked = PlotParts.rangeFromZero(values);
    Range range = new Range(marked.getLowerBound(), marked.getUpperBound() * ROOM_FOR_WORDS);
    XYPlot plot = PlotParts.plot(PlotParts.axis(chart.figure(), range), names);
    LegendItemCollection legend = new LegendItemCollection();
    Marks marks = new Marks(plot, legend);
    for (int row = 0; row < chart.levels().size(); row++) {
      OptionalDouble safest = chart.levels().get(row).safest();
      if (safest.isPresent()) {
        marks.under(
            new XYLineAnnotation(0, row, safest.getAsDouble(), row, Ink.line(5f), Ink.series(0)));
      }
      plot.addAnnotation(inWords(chart, safest, range.getUpperBound(), row));
    }
    marks.add(
        rows(chart, 0, 0, LevelFigure::safest),
        "safest figure",
        Ink.mark(0, DOT + 2),
        Ink.series(0));
    marks.add(
        rows(chart, 1, OFFSET, LevelFigure::withoutExclusions),
        "with every unit put back",
        Ink.mark(2, DOT),
        Ink.series(2));
    marks.add(rows(chart, 2, 0, LevelFigure::wanted), "wanted", Ink.bar(DOT + 14), Ink.series(1));
    marks.draw();
    return PlotParts.chart(plot, legend);
  }

  private static XYTextAnnotation inWords(
      LevelFigures chart, OptionalDouble safest, double end, int row) {
    String words =
        safest.isPresent()
            ? "±"
                + NumberText.of(
                    new Quantity(safest.getAsDouble(), chart.figure().unit(), chart.style()))
            : "no figure";
    XYTextAnnotation text = new XYTextAnnotation(words, end, row);
    text.setFont(ChartFonts.bold(13f));
    text.setPaint(Ink.TEXT);
    text.setTextAnchor(TextAnchor.CENTER_RIGHT);
    return text;
  }

  private static XYSeries rows(
      LevelFigures chart, int key, double offset, Function<LevelFigure, OptionalDouble> figure) {
    XYSeries series = new XYSeries(key, false, true);
    for (int row = 0; row < chart.levels().size(); row++) {
      OptionalDouble value = figure.apply(chart.levels().get(row));
      if (value.isPresent()) {
        series.add(value.getAsDouble(), row + offset, false);
      }
    }
    return series;
  }

  /** Collects series of marks; one without marks is left out of the legend. */
  private static final class Marks {
    private final XYPlot plot;
    private final LegendItemCollection legend;
    private final XYSeriesCollection data = new XYSeriesCollection();
    private final XYLineAndShapeRenderer renderer = new XYLineAndShapeRenderer(false, true);

    Marks(XYPlot plot, LegendItemCollection legend) {
      this.plot = plot;
      this.legend = legend;
    }

    void add(XYSeries series, String label, Shape shape, Color color) {
      if (series.isEmpty()) {
        return;
      }
      int index = data.getSeriesCount();
      data.addSeries(series);
      renderer.setSeriesShape(index, shape);
      renderer.setSeriesPaint(index, color);
      // a tall mark would push its words out of the legend's line
      boolean tall = shape.getBounds2D().getHeight() > LEGEND_HEIGHT;
      PlotParts.addMark(legend, label, tall ? Ink.bar(LEGEND_HEIGHT) : shape, color);
    }

    void under(XYAnnotation annotation) {
      renderer.addAnnotation(annotation, Layer.BACKGROUND);
    }

    void draw() {
      plot.setDataset(data);
      plot.setRenderer(renderer);
    }
  }
}
