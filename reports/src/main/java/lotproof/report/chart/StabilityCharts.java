package lotproof.report.chart;

import java.util.ArrayList;
import java.util.List;
import lotproof.report.model.Chart.BandPoint;
import lotproof.report.model.Chart.NoiseStability;
import lotproof.report.model.Chart.Point;
import org.jfree.chart.JFreeChart;
import org.jfree.chart.LegendItemCollection;
import org.jfree.chart.plot.XYPlot;
import org.jfree.chart.renderer.xy.XYLineAndShapeRenderer;
import org.jfree.data.xy.XYSeriesCollection;

/** Stability over averaging time. */
final class StabilityCharts {
  private static final double DOT = 6;

  private StabilityCharts() {}

  static JFreeChart of(NoiseStability chart) {
    List<Double> times = new ArrayList<>();
    List<Double> deviations = new ArrayList<>();
    chart.points().forEach(p -> times.add(p.x()));
    chart.points().forEach(p -> deviations.add(p.y()));
    List<BandPoint> band = chart.band().stream().filter(b -> b.extent().lower() > 0).toList();
    band.forEach(b -> deviations.add(b.extent().lower()));
    band.forEach(b -> deviations.add(b.extent().upper()));
    XYPlot plot =
        PlotParts.plot(
            PlotParts.logAxis(chart.time(), times),
            PlotParts.logAxis(chart.deviation(), deviations));
    XYLineAndShapeRenderer renderer = new XYLineAndShapeRenderer(true, true);
    LegendItemCollection legend = new LegendItemCollection();
    XYSeriesCollection data = new XYSeriesCollection();
    data.addSeries(PlotParts.series(0, chart.points()));
    renderer.setSeriesPaint(0, Ink.series(0));
    renderer.setSeriesStroke(0, Ink.line(2f));
    renderer.setSeriesShape(0, Ink.mark(0, DOT));
    PlotParts.addLine(legend, chart.deviation().title(), Ink.line(2f), Ink.series(0));
    // an area would be drawn with straight coordinates; lines follow the logarithmic axes
    if (band.size() > 1) {
      data.addSeries(PlotParts.series(1, ends(band, false)));
      data.addSeries(PlotParts.series(2, ends(band, true)));
      for (int edge = 1; edge <= 2; edge++) {
        renderer.setSeriesPaint(edge, Ink.BAND_EDGE);
        renderer.setSeriesStroke(edge, Ink.dashed(1.25f, 6, 3));
        renderer.setSeriesShapesVisible(edge, false);
      }
      PlotParts.addLine(legend, "interval", Ink.dashed(1.25f, 6, 3), Ink.BAND_EDGE);
    }
    plot.setDataset(data);
    plot.setRenderer(renderer);
    chart.best().ifPresent(mark -> PlotParts.uprightMark(plot, mark, Ink.LIMIT));
    return PlotParts.chart(plot, legend);
  }

  private static List<Point> ends(List<BandPoint> band, boolean upper) {
    return band.stream()
        .map(b -> new Point(b.x(), upper ? b.extent().upper() : b.extent().lower()))
        .toList();
  }
}
