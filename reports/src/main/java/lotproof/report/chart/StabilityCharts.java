package lotproof.report.chart;

import java.awt.geom.Path2D;
import java.util.ArrayList;
import java.util.List;
import lotproof.report.model.Chart.BandPoint;
import lotproof.report.model.Chart.NoiseStability;
import org.jfree.chart.JFreeChart;
import org.jfree.chart.LegendItemCollection;
import org.jfree.chart.annotations.XYShapeAnnotation;
import org.jfree.chart.plot.XYPlot;
import org.jfree.chart.renderer.xy.XYLineAndShapeRenderer;
import org.jfree.chart.ui.Layer;
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
    if (band.size() > 1) {
      renderer.addAnnotation(
          new XYShapeAnnotation(outline(band), Ink.dashed(1.25f, 6, 3), Ink.BAND_EDGE, Ink.BAND),
          Layer.BACKGROUND);
      PlotParts.addLine(legend, "interval", Ink.dashed(1.25f, 6, 3), Ink.BAND_EDGE);
    }
    XYSeriesCollection data = new XYSeriesCollection();
    data.addSeries(PlotParts.series(0, chart.points()));
    renderer.setSeriesPaint(0, Ink.series(0));
    renderer.setSeriesStroke(0, Ink.line(2f));
    renderer.setSeriesShape(0, Ink.mark(0, DOT));
    PlotParts.addLine(legend, chart.deviation().title(), Ink.line(2f), Ink.series(0));
    plot.setDataset(data);
    plot.setRenderer(renderer);
    chart.best().ifPresent(mark -> PlotParts.uprightMark(plot, mark, Ink.LIMIT));
    return PlotParts.chart(plot, legend);
  }

  private static Path2D outline(List<BandPoint> band) {
    Path2D path = new Path2D.Double();
    path.moveTo(band.get(0).x(), band.get(0).extent().upper());
    band.forEach(at -> path.lineTo(at.x(), at.extent().upper()));
    for (int i = band.size() - 1; i >= 0; i--) {
      path.lineTo(band.get(i).x(), band.get(i).extent().lower());
    }
    path.closePath();
    return path;
  }
}
