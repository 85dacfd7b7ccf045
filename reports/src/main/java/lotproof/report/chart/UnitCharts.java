package lotproof.report.chart;

import java.awt.Color;
import java.awt.Shape;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import lotproof.report.model.Chart.LotValues;
import lotproof.report.model.Chart.Mark;
import lotproof.report.model.Chart.PairResidual;
import lotproof.report.model.Chart.QuantilePlot;
import lotproof.report.model.Chart.ResidualMap;
import lotproof.report.model.Chart.UnitQuantile;
import lotproof.report.model.Chart.UnitSpread;
import lotproof.report.model.Chart.UnitValue;
import lotproof.report.model.Quantity;
import lotproof.report.text.NumberText;
import lotproof.report.text.OutsideText;
import org.jfree.chart.JFreeChart;
import org.jfree.chart.LegendItemCollection;
import org.jfree.chart.annotations.XYLineAnnotation;
import org.jfree.chart.annotations.XYTextAnnotation;
import org.jfree.chart.axis.SymbolAxis;
import org.jfree.chart.plot.XYPlot;
import org.jfree.chart.renderer.xy.XYLineAndShapeRenderer;
import org.jfree.chart.ui.TextAnchor;
import org.jfree.data.Range;
import org.jfree.data.xy.XYSeries;
import org.jfree.data.xy.XYSeriesCollection;

/** Charts in which each mark is a unit or a pair. */
final class UnitCharts {
  private static final double DOT = 6.5;
  private static final double LOT_WIDTH = 0.7;
  private static final int NAMED_EXTREMES = 2;
  private static final int LONGEST_SERIAL = 28;
  private static final int SIZE_STEPS = 8;
  private static final double LARGEST_MARK = 12;

  private UnitCharts() {}

  static JFreeChart unitSpread(UnitSpread chart, ChartSize size) {
    List<Double> values = new ArrayList<>();
    XYSeries counted = new XYSeries(0, false, true);
    XYSeries excluded = new XYSeries(1, false, true);
    for (int lot = 0; lot < chart.lots().size(); lot++) {
      List<UnitValue> units = chart.lots().get(lot).units();
      for (int i = 0; i < units.size(); i++) {
        double x = across(lot, i, units.size());
        UnitValue unit = units.get(i);
        (unit.excluded() ? excluded : counted).add(x, unit.value(), false);
        values.add(unit.value());
      }
    }
    LegendItemCollection legend = new LegendItemCollection();
    List<Mark> limits = PlotParts.near(chart.limits(), values, chart.value(), legend);
    limits.forEach(mark -> values.add(mark.value()));
    List<String> names = chart.lots().stream().map(LotValues::lot).toList();
    SymbolAxis lots = PlotParts.words("Lot", names, size == ChartSize.WIDE ? 12 : 6);
    int letters = names.stream().mapToInt(String::length).sum();
    lots.setVerticalTickLabels(letters > (size == ChartSize.WIDE ? 80 : 34));
    XYPlot plot = PlotParts.plot(lots, PlotParts.axis(chart.value(), PlotParts.range(values)));
    plot.setDomainGridlinesVisible(false);
    XYSeriesCollection data = new XYSeriesCollection();
    data.addSeries(counted);
    data.addSeries(excluded);
    plot.setDataset(data);
    plot.setRenderer(dots(Ink.mark(0, DOT), Ink.series(0), Ink.cross(DOT + 5), Ink.series(1)));
    limits.forEach(mark -> PlotParts.horizontalMark(plot, mark, Ink.LIMIT));
    if (excluded.getItemCount() > 0) {
      PlotParts.addMark(legend, "counts", Ink.mark(0, DOT), Ink.series(0));
      PlotParts.addMark(legend, "excluded by a decision", Ink.cross(DOT + 5), Ink.series(1));
    }
    return PlotParts.chart(plot, legend);
  }

  /**
   * Place of a unit: spread over the lot's width in serial order, so that equal values stay apart.
   */
  static double across(int lot, int unit, int units) {
    return lot + LOT_WIDTH * ((unit + 0.5) / units - 0.5);
  }

  static JFreeChart quantiles(QuantilePlot chart) {
    List<Double> expected =
        new ArrayList<>(chart.units().stream().map(UnitQuantile::expected).toList());
    List<Double> observed =
        new ArrayList<>(chart.units().stream().map(UnitQuantile::observed).toList());
    Range across = PlotParts.range(expected);
    chart
        .line()
        .ifPresent(
            line -> {
              observed.add(line.intercept() + line.slope() * across.getLowerBound());
              observed.add(line.intercept() + line.slope() * across.getUpperBound());
            });
    XYPlot plot =
        PlotParts.plot(
            PlotParts.axis(chart.expected(), across),
            PlotParts.axis(chart.observed(), PlotParts.range(observed)));
    XYSeries units = new XYSeries(0, false, true);
    chart.units().forEach(unit -> units.add(unit.expected(), unit.observed(), false));
    XYLineAndShapeRenderer renderer =
        dots(Ink.mark(0, DOT), Ink.series(0), Ink.mark(0, DOT), Ink.series(0));
    chart
        .line()
        .ifPresent(
            line ->
                plot.addAnnotation(
                    new XYLineAnnotation(
                        across.getLowerBound(),
                        line.intercept() + line.slope() * across.getLowerBound(),
                        across.getUpperBound(),
                        line.intercept() + line.slope() * across.getUpperBound(),
                        Ink.dashed(1.5f, 6, 3),
                        Ink.BAND_EDGE)));
    plot.setDataset(new XYSeriesCollection(units));
    plot.setRenderer(renderer);
    nameExtremes(plot, chart);
    return PlotParts.chart(plot, new LegendItemCollection());
  }

  /** Area stands for size; filled and open for the sign, so that no colour is needed to read it. */
  static JFreeChart residuals(ResidualMap chart, ChartSize size) {
    double most =
        chart.pairs().stream().mapToDouble(pair -> Math.abs(pair.residual())).max().orElse(0);
    SymbolAxis cells = PlotParts.words("Cell", chart.cells(), size == ChartSize.WIDE ? 26 : 10);
    cells.setVerticalTickLabels(true);
    SymbolAxis boards = PlotParts.words("Board", chart.boards(), 26);
    boards.setInverted(true);
    XYPlot plot = PlotParts.plot(cells, boards);
    XYSeriesCollection data = new XYSeriesCollection();
    XYLineAndShapeRenderer renderer = new XYLineAndShapeRenderer(false, true);
    renderer.setUseOutlinePaint(false);
    for (int sign = 0; sign < 2; sign++) {
      for (int step = 1; step <= SIZE_STEPS; step++) {
        int index = data.getSeriesCount();
        data.addSeries(new XYSeries(index, false, true));
        renderer.setSeriesPaint(index, sign == 0 ? Ink.series(1) : Ink.series(0));
        renderer.setSeriesShape(index, residualMark(sign == 0, step));
      }
    }
    for (PairResidual pair : chart.pairs()) {
      int step = most > 0 ? sizeStep(Math.abs(pair.residual()) / most) : 1;
      int series = (pair.residual() >= 0 ? 0 : SIZE_STEPS) + step - 1;
      data.getSeries(series)
          .add(chart.cells().indexOf(pair.cell()), chart.boards().indexOf(pair.board()), false);
    }
    plot.setDataset(data);
    plot.setRenderer(renderer);
    return PlotParts.chart(plot, residualLegend(chart, most));
  }

  private static LegendItemCollection residualLegend(ResidualMap chart, double most) {
    LegendItemCollection legend = new LegendItemCollection();
    String unit = chart.residual().unit();
    for (double share : new double[] {1, 0.25, -0.25, -1}) {
      String label = NumberText.of(Quantity.significant(share * most, unit, 2));
      PlotParts.addMark(
          legend,
          share > 0 ? "+" + label : label,
          residualMark(share > 0, sizeStep(Math.abs(share))),
          share > 0 ? Ink.series(1) : Ink.series(0));
    }
    return legend;
  }

  private static int sizeStep(double share) {
    return Math.max(1, Math.min(SIZE_STEPS, (int) Math.ceil(share * SIZE_STEPS)));
  }

  private static Shape residualMark(boolean filled, int step) {
    double diameter = LARGEST_MARK * Math.sqrt(step / (double) SIZE_STEPS);
    return filled ? Ink.mark(0, diameter) : Ink.ring(diameter);
  }

  private static void nameExtremes(XYPlot plot, QuantilePlot chart) {
    double middle =
        chart.units().stream()
            .mapToDouble(UnitQuantile::expected)
            .sorted()
            .skip(chart.units().size() / 2)
            .findFirst()
            .orElse(0);
    chart.units().stream()
        .sorted(
            Comparator.comparingDouble((UnitQuantile unit) -> -Math.abs(unit.expected() - middle))
                .thenComparing(UnitQuantile::serial))
        .limit(NAMED_EXTREMES)
        .forEach(
            unit -> {
              boolean left = unit.expected() < middle;
              XYTextAnnotation name =
                  new XYTextAnnotation(
                      (left ? "\u00A0\u00A0" : "")
                          + OutsideText.abridged(unit.serial(), LONGEST_SERIAL)
                          + (left ? "" : "\u00A0\u00A0"),
                      unit.expected(),
                      unit.observed());
              name.setFont(ChartFonts.plain(11f));
              name.setPaint(Ink.TEXT);
              name.setTextAnchor(left ? TextAnchor.TOP_LEFT : TextAnchor.BOTTOM_RIGHT);
              plot.addAnnotation(name);
            });
  }

  private static XYLineAndShapeRenderer dots(
      Shape first, Color firstColor, Shape second, Color secondColor) {
    XYLineAndShapeRenderer renderer = new XYLineAndShapeRenderer(false, true);
    renderer.setSeriesShape(0, first);
    renderer.setSeriesPaint(0, firstColor);
    renderer.setSeriesShape(1, second);
    renderer.setSeriesPaint(1, secondColor);
    return renderer;
  }
}
