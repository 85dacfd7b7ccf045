package lotproof.report.chart;

import java.awt.geom.Path2D;
import java.util.ArrayList;
import java.util.List;
import lotproof.report.model.Chart;
import lotproof.report.model.Chart.BandPoint;
import lotproof.report.model.Chart.ConfidenceCurve;
import lotproof.report.model.Chart.Curve;
import lotproof.report.model.Chart.ErrorCurves;
import lotproof.report.model.Chart.Mark;
import lotproof.report.model.Chart.RunOrder;
import org.jfree.chart.JFreeChart;
import org.jfree.chart.LegendItemCollection;
import org.jfree.chart.annotations.XYShapeAnnotation;
import org.jfree.chart.axis.NumberAxis;
import org.jfree.chart.plot.SeriesRenderingOrder;
import org.jfree.chart.plot.XYPlot;
import org.jfree.chart.renderer.xy.XYLineAndShapeRenderer;
import org.jfree.chart.ui.Layer;
import org.jfree.data.Range;
import org.jfree.data.xy.XYSeriesCollection;

/** Charts made of curves. */
final class CurveCharts {
  private static final double DOT = 6;

  private CurveCharts() {}

  static JFreeChart errorCurves(ErrorCurves chart) {
    List<Double> errors = PlotParts.coordinates(chart.curves(), false);
    List<Double> loads = PlotParts.coordinates(chart.curves(), true);
    for (BandPoint at : chart.band()) {
      loads.add(at.x());
      errors.add(at.extent().lower());
      errors.add(at.extent().upper());
    }
    XYPlot plot =
        PlotParts.plot(
            PlotParts.axis(chart.load(), PlotParts.exactRange(loads)),
            PlotParts.axis(chart.error(), PlotParts.range(errors)));
    LegendItemCollection legend = new LegendItemCollection();
    XYLineAndShapeRenderer renderer = new XYLineAndShapeRenderer(true, false);
    renderer.setDrawSeriesLineAsPath(true);
    if (hasArea(chart.band())) {
      renderer.addAnnotation(
          new XYShapeAnnotation(
              outline(chart.band()), Ink.dashed(1.25f, 6, 3), Ink.BAND_EDGE, Ink.BAND),
          Layer.BACKGROUND);
      PlotParts.addLine(legend, chart.bandLabel(), Ink.dashed(1.25f, 6, 3), Ink.BAND_EDGE);
    }
    XYSeriesCollection data = new XYSeriesCollection();
    boolean others = false;
    int emphasised = 0;
    // what stands out is drawn last, on top of the rest
    for (Curve curve : inDrawingOrder(chart.curves())) {
      int index = data.getSeriesCount();
      data.addSeries(PlotParts.series(index, curve.points()));
      if (curve.emphasised()) {
        renderer.setSeriesPaint(index, Ink.series(emphasised));
        renderer.setSeriesStroke(index, Ink.line(emphasised, 2.25f));
        PlotParts.addLine(
            legend, curve.name(), Ink.line(emphasised, 2.25f), Ink.series(emphasised));
        emphasised++;
      } else {
        renderer.setSeriesPaint(index, Ink.QUIET);
        renderer.setSeriesStroke(index, Ink.line(0.7f));
        others = true;
      }
    }
    if (others) {
      PlotParts.addLine(legend, "every other kit", Ink.line(0.7f), Ink.QUIET);
    }
    plot.setSeriesRenderingOrder(SeriesRenderingOrder.FORWARD);
    plot.setDataset(data);
    plot.setRenderer(renderer);
    return PlotParts.chart(plot, legend);
  }

  static JFreeChart runOrder(RunOrder chart) {
    List<Double> values = PlotParts.coordinates(chart.series(), false);
    LegendItemCollection legend = new LegendItemCollection();
    List<Mark> limits = PlotParts.near(chart.limits(), values, chart.value(), legend);
    limits.forEach(mark -> values.add(mark.value()));
    XYPlot plot =
        PlotParts.plot(
            PlotParts.axis(
                chart.order(), PlotParts.range(PlotParts.coordinates(chart.series(), true))),
            PlotParts.axis(chart.value(), PlotParts.range(values)));
    addCurves(plot, legend, chart.series(), true);
    limits.forEach(mark -> PlotParts.horizontalMark(plot, mark, Ink.LIMIT));
    return PlotParts.chart(plot, legend);
  }

  static JFreeChart confidence(ConfidenceCurve chart) {
    List<Double> figures = PlotParts.coordinates(chart.curves(), true);
    LegendItemCollection legend = new LegendItemCollection();
    List<Mark> marks = PlotParts.near(chart.figures(), figures, chart.figure(), legend);
    marks.forEach(mark -> figures.add(mark.value()));
    List<Double> fractions = PlotParts.coordinates(chart.curves(), false);
    double least = fractions.stream().mapToDouble(f -> f).min().orElse(0);
    NumberAxis confidence =
        PlotParts.percentAxis(chart.confidence(), new Range(least < 0.5 ? 0 : 0.5, 1.005));
    XYPlot plot =
        PlotParts.plot(PlotParts.axis(chart.figure(), PlotParts.range(figures)), confidence);
    addCurves(plot, legend, chart.curves(), false);
    for (Mark mark : marks) {
      PlotParts.uprightMark(plot, mark, Ink.LIMIT);
    }
    chart.wanted().ifPresent(mark -> PlotParts.ceilingMark(plot, mark, Ink.BAND_EDGE));
    return PlotParts.chart(plot, legend);
  }

  private static void addCurves(
      XYPlot plot, LegendItemCollection legend, List<Curve> curves, boolean dots) {
    XYLineAndShapeRenderer renderer = new XYLineAndShapeRenderer(true, dots);
    renderer.setDrawSeriesLineAsPath(true);
    XYSeriesCollection data = new XYSeriesCollection();
    for (int i = 0; i < curves.size(); i++) {
      Curve curve = curves.get(i);
      float width = curve.emphasised() ? 2.5f : 1.5f;
      data.addSeries(PlotParts.series(i, curve.points()));
      renderer.setSeriesPaint(i, Ink.series(i));
      renderer.setSeriesStroke(i, Ink.line(i, width));
      renderer.setSeriesShape(i, Ink.mark(i, DOT));
      if (curves.size() > 1) {
        PlotParts.addLine(legend, curve.name(), Ink.line(i, width), Ink.series(i));
      }
    }
    plot.setDataset(data);
    plot.setRenderer(renderer);
  }

  private static List<Curve> inDrawingOrder(List<Curve> curves) {
    List<Curve> order = new ArrayList<>();
    curves.stream().filter(curve -> !curve.emphasised()).forEach(order::add);
    curves.stream().filter(Chart.Curve::emphasised).forEach(order::add);
    return order;
  }

  /** A band of one place, or without height, cannot be drawn as an area. */
  private static boolean hasArea(List<BandPoint> band) {
    boolean wide = band.stream().mapToDouble(BandPoint::x).distinct().count() > 1;
    double low = band.stream().mapToDouble(at -> at.extent().lower()).min().orElse(0);
    double high = band.stream().mapToDouble(at -> at.extent().upper()).max().orElse(0);
    return wide && high > low;
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
