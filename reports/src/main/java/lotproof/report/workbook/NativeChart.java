package lotproof.report.workbook;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import lotproof.report.model.Cell;
import lotproof.report.model.Chart;
import lotproof.report.model.ChartTable;
import lotproof.report.model.FormulaValue;
import lotproof.report.model.Table;
import lotproof.report.text.OutsideText;
import lotproof.report.workbook.ChartPlot.Axis;
import lotproof.report.workbook.ChartPlot.Keys;
import lotproof.report.workbook.ChartPlot.Kind;
import lotproof.report.workbook.ChartPlot.Look;
import lotproof.report.workbook.ChartPlot.Names;
import lotproof.report.workbook.ChartPlot.Numbers;
import lotproof.report.workbook.ChartPlot.Series;
import org.apache.poi.ss.util.CellRangeAddress;

/** The spreadsheet's own chart beside the numbers of a report's chart, drawn from those cells. */
final class NativeChart {
  private static final int MOST_NAMED = 8;
  private static final int LONGEST_NAME = 40;
  private static final int[] COLORS = {0x16325c, 0xc2571a, 0x2a8c82, 0x8e4585, 0xb59a2e};
  private static final int QUIET = 0x8f99a3;
  private static final int BAND = 0x2a8c82;

  private final Chart chart;
  private final Layout.Spot spot;
  private final Table table;

  /**
   * A chart of numbers in cells.
   *
   * @param chart what to draw
   * @param spot where its numbers stand; the cells need not be filled yet
   */
  NativeChart(Chart chart, Layout.Spot spot) {
    this.chart = chart;
    this.spot = spot;
    this.table = spot.table();
  }

  /**
   * What to draw; nothing for a map of residuals, which is left to its colours, and for an empty
   * table.
   */
  Optional<ChartPlot> plot() {
    if (table.rows().isEmpty()) {
      return Optional.empty();
    }
    if (chart instanceof Chart.ErrorCurves curves) {
      return Optional.of(curves(curves.load(), curves.error()));
    }
    if (chart instanceof Chart.RunOrder order) {
      List<String> limits = order.limits().stream().map(Chart.Mark::label).toList();
      return Optional.of(curves(order.order(), order.value(), limits));
    }
    if (chart instanceof Chart.ConfidenceCurve confidence) {
      return Optional.of(curves(confidence.figure(), confidence.confidence()));
    }
    if (chart instanceof Chart.NoiseStability stability) {
      return Optional.of(curves(stability.time(), stability.deviation()));
    }
    if (chart instanceof Chart.QuantilePlot plot) {
      return Optional.of(quantiles(plot));
    }
    if (chart instanceof Chart.UnitSpread spread) {
      return units(spread);
    }
    if (chart instanceof Chart.VariationShares shares) {
      return Optional.of(bars(shares.value()));
    }
    if (chart instanceof Chart.LevelFigures levels) {
      return Optional.of(bars(levels.figure()));
    }
    return Optional.empty();
  }

  private ChartPlot curves(Chart.Axis across, Chart.Axis up) {
    return curves(across, up, List.of(ChartTable.BAND_LOWER, ChartTable.BAND_UPPER));
  }

  /** Curves over lines that say how far they may go. */
  private ChartPlot curves(Chart.Axis across, Chart.Axis up, List<String> limits) {
    int x = 1;
    int y = 2;
    Map<String, int[]> curves = groups(x, y);
    Map<String, int[]> band = new LinkedHashMap<>();
    for (String edge : limits) {
      Optional.ofNullable(curves.remove(edge)).ifPresent(rows -> band.put(edge, rows));
    }
    boolean told = curves.size() <= MOST_NAMED;
    if (!told) {
      OptionalInt last = lastOfClosed(curves, x);
      if (last.isPresent()) {
        int[] all = {0, last.getAsInt()};
        curves = Map.of("all " + curves.size() + " curves", all);
      }
    }
    List<Series> series = new ArrayList<>();
    for (Map.Entry<String, int[]> curve : curves.entrySet()) {
      int color = told ? COLORS[series.size() % COLORS.length] : QUIET;
      series.add(series(curve.getKey(), curve.getValue(), x, y, Look.LINE, color));
    }
    band.forEach((edge, rows) -> series.add(series(edge, rows, x, y, Look.LINE, BAND)));
    boolean legend = series.size() > 1 && series.size() <= MOST_NAMED;
    return new ChartPlot(Kind.POINTS, axis(across), axis(up), series, legend);
  }

  private ChartPlot quantiles(Chart.QuantilePlot plot) {
    List<Series> series = new ArrayList<>();
    series.add(series("observed", allRows(), 1, 2, Look.MARKERS, COLORS[0]));
    if (plot.line().isPresent()) {
      series.add(series("on the line", allRows(), 1, 3, Look.LINE, COLORS[2]));
    }
    return new ChartPlot(Kind.POINTS, axis(plot.expected()), axis(plot.observed()), series, true);
  }

  private Optional<ChartPlot> units(Chart.UnitSpread spread) {
    int count = spread.lots().stream().mapToInt(lot -> lot.units().size()).sum();
    if (count == 0) {
      return Optional.empty();
    }
    int[] rows = {0, count - 1};
    Series units =
        new Series("units in lot order", names(rows, 1), numbers(rows, 2), Look.MARKERS, COLORS[0]);
    return Optional.of(
        new ChartPlot(
            Kind.DOTS, new Axis("Unit", false), axis(spread.value()), List.of(units), false));
  }

  private ChartPlot bars(Chart.Axis axis) {
    int[] rows = allRows();
    List<Series> series = new ArrayList<>();
    for (int c = 1; c < table.columns().size(); c++) {
      Numbers values = numbers(rows, c);
      if (table.columns().get(c).kind().numeric()
          && values.numbers().stream().anyMatch(OptionalDouble::isPresent)) {
        int color = COLORS[series.size() % COLORS.length];
        series.add(
            new Series(
                name(table.columns().get(c).title()), names(rows, 0), values, Look.FILL, color));
      }
    }
    return new ChartPlot(Kind.BARS, axis(axis), new Axis("", false), series, true);
  }

  private int[] allRows() {
    return new int[] {0, table.rows().size() - 1};
  }

  private Series series(String name, int[] rows, int x, int y, Look look, int color) {
    Keys keys = numbers(rows, x);
    return new Series(name(name), keys, numbers(rows, y), look, color);
  }

  private static String name(String name) {
    return OutsideText.shortened(name, LONGEST_NAME);
  }

  private Axis axis(Chart.Axis axis) {
    return new Axis(OutsideText.clean(axis.label()), chart instanceof Chart.NoiseStability);
  }

  /**
   * The last row of the last curve when each ends where the next begins, as load runs that come
   * back to zero do. One line through all of them then shows the same picture as a line for each,
   * and a spreadsheet is not burdened with hundreds of series.
   */
  private OptionalInt lastOfClosed(Map<String, int[]> groups, int x) {
    int next = 0;
    double end = Double.NaN;
    for (int[] rows : groups.values()) {
      double start = number(rows[0], x);
      if (rows[0] != next || (next > 0 && start != end)) {
        return OptionalInt.empty();
      }
      end = number(rows[1], x);
      next = rows[1] + 1;
    }
    return OptionalInt.of(next - 1);
  }

  private double number(int row, int column) {
    return FormulaValue.numberIn(table.rows().get(row).cells().get(column)).orElseThrow();
  }

  /** Rows of each name in the first column that have numbers in both columns. */
  private Map<String, int[]> groups(int x, int y) {
    Map<String, int[]> groups = new LinkedHashMap<>();
    for (int r = 0; r < table.rows().size(); r++) {
      var cells = table.rows().get(r).cells();
      boolean numbers =
          FormulaValue.numberIn(cells.get(x)).isPresent()
              && FormulaValue.numberIn(cells.get(y)).isPresent();
      if (numbers && cells.get(0) instanceof Cell.Text name) {
        int row = r;
        groups.merge(
            name.text(), new int[] {r, r}, (was, now) -> new int[] {was[0], Math.max(was[1], row)});
      }
    }
    return groups;
  }

  /** Numbers of a column, with the cells that hold them. */
  private Numbers numbers(int[] rows, int column) {
    return new Numbers(
        range(rows, column), cells(rows, column).stream().map(FormulaValue::numberIn).toList());
  }

  private Names names(int[] rows, int column) {
    return new Names(
        range(rows, column),
        cells(rows, column).stream()
            .map(cell -> cell instanceof Cell.Text text ? OutsideText.clean(text.text()) : "")
            .toList());
  }

  private List<Cell> cells(int[] rows, int column) {
    return table.rows().subList(rows[0], rows[1] + 1).stream()
        .map(row -> row.cells().get(column))
        .toList();
  }

  private String range(int[] rows, int column) {
    int c = spot.column(column);
    return new CellRangeAddress(spot.row(rows[0]), spot.row(rows[1]), c, c)
        .formatAsString(spot.sheet(), true);
  }
}
