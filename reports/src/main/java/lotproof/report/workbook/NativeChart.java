package lotproof.report.workbook;

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
import org.apache.poi.ss.util.CellRangeAddress;
import org.apache.poi.xddf.usermodel.XDDFColor;
import org.apache.poi.xddf.usermodel.XDDFLineProperties;
import org.apache.poi.xddf.usermodel.XDDFNoFillProperties;
import org.apache.poi.xddf.usermodel.XDDFShapeProperties;
import org.apache.poi.xddf.usermodel.XDDFSolidFillProperties;
import org.apache.poi.xddf.usermodel.chart.AxisCrosses;
import org.apache.poi.xddf.usermodel.chart.AxisOrientation;
import org.apache.poi.xddf.usermodel.chart.AxisPosition;
import org.apache.poi.xddf.usermodel.chart.BarDirection;
import org.apache.poi.xddf.usermodel.chart.ChartTypes;
import org.apache.poi.xddf.usermodel.chart.DisplayBlanks;
import org.apache.poi.xddf.usermodel.chart.LegendPosition;
import org.apache.poi.xddf.usermodel.chart.MarkerStyle;
import org.apache.poi.xddf.usermodel.chart.ScatterStyle;
import org.apache.poi.xddf.usermodel.chart.XDDFBarChartData;
import org.apache.poi.xddf.usermodel.chart.XDDFCategoryAxis;
import org.apache.poi.xddf.usermodel.chart.XDDFCategoryDataSource;
import org.apache.poi.xddf.usermodel.chart.XDDFDataSourcesFactory;
import org.apache.poi.xddf.usermodel.chart.XDDFLineChartData;
import org.apache.poi.xddf.usermodel.chart.XDDFNumericalDataSource;
import org.apache.poi.xddf.usermodel.chart.XDDFScatterChartData;
import org.apache.poi.xddf.usermodel.chart.XDDFValueAxis;
import org.apache.poi.xssf.usermodel.XSSFChart;
import org.apache.poi.xssf.usermodel.XSSFClientAnchor;
import org.apache.poi.xssf.usermodel.XSSFSheet;
import org.jspecify.annotations.Nullable;

/** The spreadsheet's own chart beside the numbers of a report's chart, drawn from those cells. */
final class NativeChart {
  private static final String PLAIN = "General";
  private static final int MOST_NAMED = 8;
  private static final byte[][] COLORS = {
    rgb(0x16325c), rgb(0xc2571a), rgb(0x2a8c82), rgb(0x8e4585), rgb(0xb59a2e)
  };
  private static final byte[] QUIET = rgb(0x8f99a3);
  private static final byte[] BAND = rgb(0x2a8c82);

  private final XSSFSheet sheet;
  private final Chart chart;
  private final Layout.Spot spot;
  private final int top;
  private final Table table;

  /**
   * A chart beside its numbers.
   *
   * @param sheet sheet of both; its cells need not be filled yet
   * @param chart what to draw
   * @param spot where its numbers stand
   * @param top first row of the chart
   */
  NativeChart(XSSFSheet sheet, Chart chart, Layout.Spot spot, int top) {
    this.sheet = sheet;
    this.chart = chart;
    this.spot = spot;
    this.top = top;
    this.table = spot.table();
  }

  /** Draws the chart; a map of residuals is left to its colours, an empty table to itself. */
  void draw() {
    if (table.rows().isEmpty()) {
      return;
    }
    if (chart instanceof Chart.ErrorCurves curves) {
      scatter(1, 2, true, curves.load(), curves.error());
    } else if (chart instanceof Chart.RunOrder order) {
      scatter(1, 2, true, order.order(), order.value());
    } else if (chart instanceof Chart.ConfidenceCurve confidence) {
      scatter(1, 2, true, confidence.figure(), confidence.confidence());
    } else if (chart instanceof Chart.NoiseStability stability) {
      scatter(1, 2, true, stability.time(), stability.deviation());
    } else if (chart instanceof Chart.QuantilePlot plot) {
      quantiles(plot);
    } else if (chart instanceof Chart.UnitSpread spread) {
      units(spread);
    } else if (chart instanceof Chart.VariationShares shares) {
      bars(shares.value());
    } else if (chart instanceof Chart.LevelFigures levels) {
      bars(levels.figure());
    }
  }

  private void scatter(int x, int y, boolean lines, Chart.Axis across, Chart.Axis up) {
    XSSFChart drawn = frame();
    XDDFScatterChartData data = scatterData(drawn, across, up);
    Map<String, int[]> curves = groups(x, y);
    Map<String, int[]> band = new LinkedHashMap<>();
    for (String edge : List.of(ChartTable.BAND_LOWER, ChartTable.BAND_UPPER)) {
      Optional.ofNullable(curves.remove(edge)).ifPresent(rows -> band.put(edge, rows));
    }
    boolean told = curves.size() <= MOST_NAMED;
    if (curves.size() > MOST_NAMED && lines) {
      OptionalInt last = lastOfClosed(curves, x);
      if (last.isPresent()) {
        int[] all = {0, last.getAsInt()};
        curves = Map.of("all " + curves.size() + " curves", all);
      }
    }
    int number = 0;
    for (Map.Entry<String, int[]> curve : curves.entrySet()) {
      byte[] color = told ? COLORS[number % COLORS.length] : QUIET;
      addSeries(data, curve.getKey(), x, y, curve.getValue(), lines, color);
      number++;
    }
    band.forEach((edge, rows) -> addSeries(data, edge, x, y, rows, true, BAND));
    drawn.plot(data);
    int series = curves.size() + band.size();
    if (series > 1 && series <= MOST_NAMED) {
      drawn.getOrAddLegend().setPosition(LegendPosition.TOP);
    }
  }

  private void quantiles(Chart.QuantilePlot plot) {
    XSSFChart drawn = frame();
    XDDFScatterChartData data = scatterData(drawn, plot.expected(), plot.observed());
    int[] all = {0, table.rows().size() - 1};
    addSeries(data, "observed", 1, 2, all, false, COLORS[0]);
    if (plot.line().isPresent()) {
      addSeries(data, "on the line", 1, 3, all, true, COLORS[2]);
    }
    drawn.plot(data);
    drawn.getOrAddLegend().setPosition(LegendPosition.TOP);
  }

  private XDDFScatterChartData scatterData(XSSFChart drawn, Chart.Axis across, Chart.Axis up) {
    XDDFValueAxis bottom = drawn.createValueAxis(AxisPosition.BOTTOM);
    XDDFValueAxis left = drawn.createValueAxis(AxisPosition.LEFT);
    bottom.setTitle(title(across));
    left.setTitle(title(up));
    bottom.setNumberFormat(PLAIN);
    left.setNumberFormat(PLAIN);
    bottom.setCrosses(AxisCrosses.MIN);
    left.setCrosses(AxisCrosses.MIN);
    if (chart instanceof Chart.NoiseStability) {
      bottom.setLogBase(10);
      left.setLogBase(10);
    }
    XDDFScatterChartData data =
        (XDDFScatterChartData) drawn.createData(ChartTypes.SCATTER, bottom, left);
    data.setStyle(ScatterStyle.LINE_MARKER);
    data.setVaryColors(false);
    return data;
  }

  private void addSeries(
      XDDFScatterChartData data,
      String name,
      int x,
      int y,
      int[] rows,
      boolean lines,
      byte[] color) {
    XDDFScatterChartData.Series series =
        (XDDFScatterChartData.Series) data.addSeries(numbers(rows, x), numbers(rows, y));
    series.setTitle(OutsideText.shortened(name, 40), null);
    series.setSmooth(false);
    if (lines) {
      series.setMarkerStyle(MarkerStyle.NONE);
      series.setLineProperties(line(color));
    } else {
      series.setMarkerStyle(MarkerStyle.CIRCLE);
      series.setShapeProperties(withoutLine());
    }
  }

  private void units(Chart.UnitSpread spread) {
    int count = spread.lots().stream().mapToInt(lot -> lot.units().size()).sum();
    if (count == 0) {
      return;
    }
    XSSFChart drawn = frame();
    XDDFCategoryAxis bottom = drawn.createCategoryAxis(AxisPosition.BOTTOM);
    XDDFValueAxis left = drawn.createValueAxis(AxisPosition.LEFT);
    bottom.setTitle("Unit");
    left.setTitle(title(spread.value()));
    left.setNumberFormat(PLAIN);
    left.setCrosses(AxisCrosses.MIN);
    XDDFLineChartData data = (XDDFLineChartData) drawn.createData(ChartTypes.LINE, bottom, left);
    data.setVaryColors(false);
    int[] rows = {0, count - 1};
    XDDFLineChartData.Series series =
        (XDDFLineChartData.Series) data.addSeries(words(rows, 1), numbers(rows, 2));
    series.setTitle("units in lot order", null);
    series.setMarkerStyle(MarkerStyle.CIRCLE);
    series.setSmooth(false);
    series.setShapeProperties(withoutLine());
    drawn.plot(data);
  }

  private void bars(Chart.Axis axis) {
    XSSFChart drawn = frame();
    XDDFCategoryAxis left = drawn.createCategoryAxis(AxisPosition.LEFT);
    XDDFValueAxis bottom = drawn.createValueAxis(AxisPosition.BOTTOM);
    bottom.setTitle(title(axis));
    bottom.setMinimum(0);
    // the first row on top, as in the table
    left.setOrientation(AxisOrientation.MAX_MIN);
    bottom.setCrosses(AxisCrosses.MAX);
    bottom.setNumberFormat(PLAIN);
    XDDFBarChartData data = (XDDFBarChartData) drawn.createData(ChartTypes.BAR, left, bottom);
    data.setBarDirection(BarDirection.BAR);
    data.setVaryColors(false);
    int[] rows = {0, table.rows().size() - 1};
    int number = 0;
    for (int c = 1; c < table.columns().size(); c++) {
      int column = c;
      boolean numbers =
          table.rows().stream()
              .anyMatch(row -> FormulaValue.numberIn(row.cells().get(column)).isPresent());
      if (!table.columns().get(c).kind().numeric() || !numbers) {
        continue;
      }
      var series = data.addSeries(words(rows, 0), numbers(rows, c));
      series.setTitle(table.columns().get(c).title(), null);
      series.setFillProperties(
          new XDDFSolidFillProperties(XDDFColor.from(COLORS[number++ % COLORS.length])));
    }
    drawn.plot(data);
    drawn.getOrAddLegend().setPosition(LegendPosition.TOP);
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

  private XSSFChart frame() {
    XSSFClientAnchor anchor =
        new XSSFClientAnchor(
            0, 0, 0, 0, 0, top, SheetPlan.CHART_COLUMNS, top + SheetPlan.CHART_ROWS);
    XSSFChart drawn = sheet.createDrawingPatriarch().createChart(anchor);
    drawn.setTitleText(OutsideText.clean(chart.caption().question()));
    drawn.setTitleOverlay(false);
    // a series that is shorter than another must not run on to zero
    drawn.displayBlanksAs(DisplayBlanks.GAP);
    return drawn;
  }

  /** Numbers of a column, with the cells that hold them. */
  private XDDFNumericalDataSource<Double> numbers(int[] rows, int column) {
    @Nullable Double[] values = new @Nullable Double[rows[1] - rows[0] + 1];
    for (int r = 0; r < values.length; r++) {
      OptionalDouble number =
          FormulaValue.numberIn(table.rows().get(rows[0] + r).cells().get(column));
      values[r] = number.isPresent() ? number.getAsDouble() : null;
    }
    return XDDFDataSourcesFactory.fromArray(values, range(rows, column));
  }

  private XDDFCategoryDataSource words(int[] rows, int column) {
    String[] values = new String[rows[1] - rows[0] + 1];
    for (int r = 0; r < values.length; r++) {
      var cell = table.rows().get(rows[0] + r).cells().get(column);
      values[r] = cell instanceof Cell.Text text ? OutsideText.clean(text.text()) : "";
    }
    return XDDFDataSourcesFactory.fromArray(values, range(rows, column));
  }

  private String range(int[] rows, int column) {
    int c = spot.column(column);
    return new CellRangeAddress(spot.row(rows[0]), spot.row(rows[1]), c, c)
        .formatAsString(sheet.getSheetName(), true);
  }

  private static XDDFLineProperties line(byte[] color) {
    XDDFLineProperties line =
        new XDDFLineProperties(new XDDFSolidFillProperties(XDDFColor.from(color)));
    line.setWidth(1.5);
    return line;
  }

  private static XDDFShapeProperties withoutLine() {
    XDDFShapeProperties shape = new XDDFShapeProperties();
    shape.setLineProperties(new XDDFLineProperties(new XDDFNoFillProperties()));
    return shape;
  }

  private static String title(Chart.Axis axis) {
    return OutsideText.clean(axis.label());
  }

  private static byte[] rgb(int color) {
    return new byte[] {(byte) (color >> 16), (byte) (color >> 8), (byte) color};
  }
}
