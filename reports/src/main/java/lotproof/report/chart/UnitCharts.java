package lotproof.report.chart;

import java.awt.Color;
import java.awt.Paint;
import java.awt.Shape;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import lotproof.report.model.Chart.LotValues;
import lotproof.report.model.Chart.PairResidual;
import lotproof.report.model.Chart.QuantilePlot;
import lotproof.report.model.Chart.ResidualMap;
import lotproof.report.model.Chart.UnitQuantile;
import lotproof.report.model.Chart.UnitSpread;
import lotproof.report.model.Chart.UnitValue;
import lotproof.report.text.OutsideText;
import org.jfree.chart.JFreeChart;
import org.jfree.chart.LegendItemCollection;
import org.jfree.chart.annotations.XYLineAnnotation;
import org.jfree.chart.annotations.XYTextAnnotation;
import org.jfree.chart.axis.NumberAxis;
import org.jfree.chart.axis.SymbolAxis;
import org.jfree.chart.plot.XYPlot;
import org.jfree.chart.renderer.PaintScale;
import org.jfree.chart.renderer.xy.XYBlockRenderer;
import org.jfree.chart.renderer.xy.XYLineAndShapeRenderer;
import org.jfree.chart.title.PaintScaleLegend;
import org.jfree.chart.ui.RectangleEdge;
import org.jfree.chart.ui.RectangleInsets;
import org.jfree.chart.ui.TextAnchor;
import org.jfree.data.Range;
import org.jfree.data.xy.DefaultXYZDataset;
import org.jfree.data.xy.XYSeries;
import org.jfree.data.xy.XYSeriesCollection;

/** Charts in which each mark is a unit or a pair. */
final class UnitCharts {
  private static final double DOT = 6.5;
  private static final double LOT_WIDTH = 0.7;
  private static final int NAMED_EXTREMES = 3;
  private static final int LONGEST_SERIAL = 20;
  private static final double TELLING_SHARE = 0.5;

  private UnitCharts() {}

  static JFreeChart unitSpread(UnitSpread chart, ChartSize size) {
    List<Double> values = new ArrayList<>();
    XYSeries counted = new XYSeries(0, false, true);
    XYSeries excluded = new XYSeries(1, false, true);
    for (int lot = 0; lot < chart.lots().size(); lot++) {
      List<UnitValue> units = chart.lots().get(lot).units();
      for (int i = 0; i < units.size(); i++) {
        // spread over the lot's width in serial order, so that equal values stay apart
        double x = lot + LOT_WIDTH * ((i + 0.5) / units.size() - 0.5);
        UnitValue unit = units.get(i);
        (unit.excluded() ? excluded : counted).add(x, unit.value(), false);
        values.add(unit.value());
      }
    }
    chart.limits().forEach(mark -> values.add(mark.value()));
    List<String> names = chart.lots().stream().map(LotValues::lot).toList();
    SymbolAxis lots = PlotParts.words("", names, size == ChartSize.WIDE ? 12 : 6);
    int letters = names.stream().mapToInt(String::length).sum();
    lots.setVerticalTickLabels(letters > (size == ChartSize.WIDE ? 80 : 34));
    XYPlot plot = PlotParts.plot(lots, PlotParts.axis(chart.value(), PlotParts.range(values)));
    plot.setDomainGridlinesVisible(false);
    XYSeriesCollection data = new XYSeriesCollection();
    data.addSeries(counted);
    data.addSeries(excluded);
    plot.setDataset(data);
    plot.setRenderer(dots(Ink.mark(0, DOT), Ink.series(0), Ink.cross(DOT + 5), Ink.series(1)));
    chart.limits().forEach(mark -> PlotParts.horizontalMark(plot, mark, Ink.LIMIT));
    LegendItemCollection legend = new LegendItemCollection();
    if (excluded.getItemCount() > 0) {
      PlotParts.addMark(legend, "counts", Ink.mark(0, DOT), Ink.series(0));
      PlotParts.addMark(legend, "excluded by a decision", Ink.cross(DOT + 5), Ink.series(1));
    }
    return PlotParts.chart(plot, legend);
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

  static JFreeChart residuals(ResidualMap chart, ChartSize size) {
    double most =
        chart.pairs().stream().mapToDouble(pair -> Math.abs(pair.residual())).max().orElse(1);
    double extreme = most > 0 ? most : 1;
    int acrossRoom = size == ChartSize.WIDE ? 26 : 10;
    SymbolAxis cells = PlotParts.words("Cell", chart.cells(), acrossRoom);
    cells.setVerticalTickLabels(true);
    SymbolAxis boards = PlotParts.words("Board", chart.boards(), 16);
    boards.setInverted(true);
    XYPlot plot = PlotParts.plot(cells, boards);
    plot.setDomainGridlinesVisible(false);
    plot.setRangeGridlinesVisible(false);
    plot.setOutlineVisible(true);
    plot.setOutlinePaint(Ink.GRID);
    double[][] xyz = new double[3][chart.pairs().size()];
    XYSeries plus = new XYSeries(0, false, true);
    XYSeries minus = new XYSeries(1, false, true);
    for (int i = 0; i < chart.pairs().size(); i++) {
      PairResidual pair = chart.pairs().get(i);
      xyz[0][i] = chart.cells().indexOf(pair.cell());
      xyz[1][i] = chart.boards().indexOf(pair.board());
      xyz[2][i] = pair.residual();
      if (Math.abs(pair.residual()) >= TELLING_SHARE * extreme) {
        (pair.residual() > 0 ? plus : minus).add(xyz[0][i], xyz[1][i], false);
      }
    }
    DefaultXYZDataset pairs = new DefaultXYZDataset();
    pairs.addSeries(0, xyz);
    XYBlockRenderer blocks = new XYBlockRenderer();
    ResidualScale scale = new ResidualScale(extreme);
    blocks.setPaintScale(scale);
    XYSeriesCollection signs = new XYSeriesCollection();
    signs.addSeries(plus);
    signs.addSeries(minus);
    plot.setDataset(0, signs);
    plot.setRenderer(0, dots(Ink.plus(DOT), Color.WHITE, Ink.minus(DOT), Color.WHITE));
    plot.setDataset(1, pairs);
    plot.setRenderer(1, blocks);
    JFreeChart whole = PlotParts.chart(plot, new LegendItemCollection());
    whole.addSubtitle(colourScale(chart, scale));
    return whole;
  }

  private static PaintScaleLegend colourScale(ResidualMap chart, ResidualScale scale) {
    NumberAxis axis =
        PlotParts.axis(chart.residual(), new Range(scale.getLowerBound(), scale.getUpperBound()));
    PaintScaleLegend legend = new PaintScaleLegend(scale, axis);
    legend.setPosition(RectangleEdge.RIGHT);
    legend.setStripWidth(12);
    legend.setStripOutlineVisible(false);
    legend.setSubdivisionCount(41);
    legend.setBackgroundPaint(Ink.PAPER);
    legend.setPadding(new RectangleInsets(10, 12, 40, 0));
    return legend;
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
                      (left ? "\u2002" : "")
                          + OutsideText.shortened(unit.serial(), LONGEST_SERIAL)
                          + (left ? "" : "\u2002"),
                      unit.expected(),
                      unit.observed());
              name.setFont(ChartFonts.plain(11f));
              name.setPaint(Ink.TEXT);
              name.setTextAnchor(left ? TextAnchor.CENTER_LEFT : TextAnchor.CENTER_RIGHT);
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

  /** From dark teal through near-white to dark orange; the ends also carry signs. */
  private static final class ResidualScale implements PaintScale {
    private static final Color LOW = new Color(0x0e5a63);
    private static final Color MIDDLE = new Color(0xf1f1ee);
    private static final Color HIGH = new Color(0xa8431a);
    private final double extreme;

    ResidualScale(double extreme) {
      this.extreme = extreme;
    }

    @Override
    public double getLowerBound() {
      return -extreme;
    }

    @Override
    public double getUpperBound() {
      return extreme;
    }

    @Override
    public Paint getPaint(double value) {
      double share = Math.max(-1, Math.min(1, value / extreme));
      Color end = share < 0 ? LOW : HIGH;
      double weight = Math.abs(share);
      return new Color(
          mix(MIDDLE.getRed(), end.getRed(), weight),
          mix(MIDDLE.getGreen(), end.getGreen(), weight),
          mix(MIDDLE.getBlue(), end.getBlue(), weight));
    }

    private static int mix(int from, int to, double weight) {
      return (int) Math.round(from + (to - from) * weight);
    }
  }
}
