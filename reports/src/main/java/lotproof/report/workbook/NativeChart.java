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
import org.apache.poi.xddf.usermodel.chart.AxisCrossBetween;
import org.apache.poi.xddf.usermodel.chart.AxisCrosses;
import org.apache.poi.xddf.usermodel.chart.AxisOrientation;
import org.apache.poi.xddf.usermodel.chart.AxisPosition;
import org.apache.poi.xddf.usermodel.chart.AxisTickLabelPosition;
import org.apache.poi.xddf.usermodel.chart.BarDirection;
import org.apache.poi.xddf.usermodel.chart.BarGrouping;
import org.apache.poi.xddf.usermodel.chart.ChartTypes;
import org.apache.poi.xddf.usermodel.chart.DisplayBlanks;
import org.apache.poi.xddf.usermodel.chart.Grouping;
import org.apache.poi.xddf.usermodel.chart.LegendPosition;
import org.apache.poi.xddf.usermodel.chart.MarkerStyle;
import org.apache.poi.xddf.usermodel.chart.ScatterStyle;
import org.apache.poi.xddf.usermodel.chart.XDDFBarChartData;
import org.apache.poi.xddf.usermodel.chart.XDDFCategoryAxis;
import org.apache.poi.xddf.usermodel.chart.XDDFCategoryDataSource;
import org.apache.poi.xddf.usermodel.chart.XDDFChartData;
import org.apache.poi.xddf.usermodel.chart.XDDFChartLegend;
import org.apache.poi.xddf.usermodel.chart.XDDFDataSourcesFactory;
import org.apache.poi.xddf.usermodel.chart.XDDFLineChartData;
import org.apache.poi.xddf.usermodel.chart.XDDFNumericalDataSource;
import org.apache.poi.xddf.usermodel.chart.XDDFScatterChartData;
import org.apache.poi.xddf.usermodel.chart.XDDFValueAxis;
import org.apache.poi.xssf.usermodel.XSSFChart;
import org.apache.poi.xssf.usermodel.XSSFDrawing;
import org.apache.poi.xssf.usermodel.XSSFSheet;
import org.openxmlformats.schemas.drawingml.x2006.main.CTShapeProperties;

/** The spreadsheet's own chart beside the numbers of a report's chart, drawn from those cells. */
final class NativeChart {
  private static final int MOST_NAMED = 8;
  private static final int LONGEST_NAME = 40;
  private static final int[] COLORS = {0x16325c, 0xc2571a, 0x2a8c82, 0x8e4585, 0xb59a2e};
  private static final int QUIET = 0x8f99a3;
  private static final int BAND = 0x2a8c82;
  private static final String GENERAL = "General";
  private static final double LINE_POINTS = 1.5;
  private static final XDDFLineProperties NO_LINE =
      new XDDFLineProperties(new XDDFNoFillProperties());

  /** Columns of most tables behind a chart; the first names the series. */
  private static final int KEY = 1;

  private static final int VALUE = 2;

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
   * Draws it at the left of a sheet, with words for those who cannot see it. A map of residuals is
   * left to the colours of its cells, and an empty table gives no chart.
   *
   * @param top first row of the chart, counted from 0
   */
  void drawOn(XSSFSheet sheet, int top) {
    boolean unitsOfNoLot = chart instanceof Chart.UnitSpread spread && units(spread) == 0;
    if (table.rows().isEmpty() || unitsOfNoLot || chart instanceof Chart.ResidualMap) {
      return;
    }
    XSSFChart drawn = framed(sheet, top);
    List<String> band = List.of(ChartTable.BAND_LOWER, ChartTable.BAND_UPPER);
    if (chart instanceof Chart.ErrorCurves curves) {
      curves(drawn, curves.load(), curves.error(), band);
    } else if (chart instanceof Chart.RunOrder order) {
      List<String> limits = order.limits().stream().map(Chart.Mark::label).toList();
      curves(drawn, order.order(), order.value(), limits);
    } else if (chart instanceof Chart.ConfidenceCurve confidence) {
      curves(drawn, confidence.figure(), confidence.confidence(), band);
    } else if (chart instanceof Chart.NoiseStability stability) {
      curves(drawn, stability.time(), stability.deviation(), band);
    } else if (chart instanceof Chart.QuantilePlot plot) {
      quantiles(drawn, plot);
    } else if (chart instanceof Chart.UnitSpread spread) {
      units(drawn, spread);
    } else if (chart instanceof Chart.VariationShares shares) {
      bars(drawn, shares.value());
    } else if (chart instanceof Chart.LevelFigures levels) {
      bars(drawn, levels.figure());
    }
  }

  private XSSFChart framed(XSSFSheet sheet, int top) {
    XSSFDrawing drawing = sheet.createDrawingPatriarch();
    int bottom = top + SheetPlan.CHART_ROWS;
    XSSFChart drawn =
        drawing.createChart(
            drawing.createAnchor(0, 0, 0, 0, 0, top, SheetPlan.CHART_COLUMNS, bottom));
    String question = OutsideText.clean(chart.caption().question());
    var frame = drawn.getGraphicFrame();
    frame.setName("Chart " + drawing.getCharts().size());
    var words = frame.getCTGraphicalObjectFrame().getNvGraphicFramePr().getCNvPr();
    words.setTitle(question);
    words.setDescr(OutsideText.clean(chart.caption().answer()));
    drawn.setTitleText(question);
    drawn.setTitleOverlay(false);
    drawn.setAutoTitleDeleted(false);
    drawn.getCTChartSpace().addNewRoundedCorners().setVal(false);
    // a series that is shorter than another must not run on to zero
    drawn.displayBlanksAs(DisplayBlanks.GAP);
    return drawn;
  }

  /** Curves over lines that say how far they may go. */
  private void curves(XSSFChart drawn, Chart.Axis across, Chart.Axis up, List<String> limits) {
    Map<String, int[]> curves = groups();
    Map<String, int[]> band = new LinkedHashMap<>();
    for (String edge : limits) {
      Optional.ofNullable(curves.remove(edge)).ifPresent(rows -> band.put(edge, rows));
    }
    boolean told = curves.size() <= MOST_NAMED;
    if (!told) {
      OptionalInt last = lastOfClosed(curves);
      if (last.isPresent()) {
        int[] all = {0, last.getAsInt()};
        curves = Map.of("all " + curves.size() + " curves", all);
      }
    }
    XDDFScatterChartData data = scatter(drawn, across, up);
    for (Map.Entry<String, int[]> curve : curves.entrySet()) {
      int color = told ? COLORS[data.getSeriesCount() % COLORS.length] : QUIET;
      line(data, curve.getKey(), curve.getValue(), VALUE, color);
    }
    band.forEach((edge, rows) -> line(data, edge, rows, VALUE, BAND));
    int series = data.getSeriesCount();
    finish(drawn, data, series > 1 && series <= MOST_NAMED);
  }

  private void quantiles(XSSFChart drawn, Chart.QuantilePlot plot) {
    XDDFScatterChartData data = scatter(drawn, plot.expected(), plot.observed());
    var observed = (XDDFScatterChartData.Series) series(data, "observed", allRows(), VALUE);
    observed.setMarkerStyle(MarkerStyle.CIRCLE);
    observed.setLineProperties(NO_LINE);
    observed.getCTScatterSer().getMarker().setSpPr(filled(COLORS[0]));
    observed.setSmooth(false);
    if (plot.line().isPresent()) {
      line(data, "on the line", allRows(), VALUE + 1, COLORS[2]);
    }
    finish(drawn, data, true);
  }

  private static int units(Chart.UnitSpread spread) {
    return spread.lots().stream().mapToInt(lot -> lot.units().size()).sum();
  }

  /** Dots over the names of the units. */
  private void units(XSSFChart drawn, Chart.UnitSpread spread) {
    XDDFCategoryAxis names = drawn.createCategoryAxis(AxisPosition.BOTTOM);
    names.setTitle("Unit");
    names.setCrosses(AxisCrosses.MIN);
    XDDFValueAxis values = drawn.createValueAxis(AxisPosition.LEFT);
    furnish(values, spread.value());
    values.setCrossBetween(AxisCrossBetween.BETWEEN);
    var data = (XDDFLineChartData) drawn.createData(ChartTypes.LINE, names, values);
    data.setGrouping(Grouping.STANDARD);
    int[] rows = {0, units(spread) - 1};
    var dots = (XDDFLineChartData.Series) data.addSeries(names(rows, 1), numbers(rows, VALUE));
    dots.setTitle("units in lot order");
    dots.setMarkerStyle(MarkerStyle.CIRCLE);
    dots.setLineProperties(NO_LINE);
    dots.getCTLineSer().getMarker().setSpPr(filled(COLORS[0]));
    dots.setSmooth(false);
    finish(drawn, data, false);
  }

  /** Lying bars from zero, the first on top as in the table. */
  private void bars(XSSFChart drawn, Chart.Axis axis) {
    XDDFCategoryAxis names = drawn.createCategoryAxis(AxisPosition.LEFT);
    names.setOrientation(AxisOrientation.MAX_MIN);
    XDDFValueAxis values = drawn.createValueAxis(AxisPosition.BOTTOM);
    furnish(values, axis);
    values.setMinimum(0);
    values.setCrosses(AxisCrosses.MAX);
    values.setCrossBetween(AxisCrossBetween.BETWEEN);
    var data = (XDDFBarChartData) drawn.createData(ChartTypes.BAR, names, values);
    data.setBarDirection(BarDirection.BAR);
    data.setBarGrouping(BarGrouping.CLUSTERED);
    int[] rows = allRows();
    for (int c = 1; c < table.columns().size(); c++) {
      boolean some =
          cells(rows, c).stream().anyMatch(cell -> FormulaValue.numberIn(cell).isPresent());
      if (table.columns().get(c).kind().numeric() && some) {
        int color = COLORS[data.getSeriesCount() % COLORS.length];
        XDDFChartData.Series bar = data.addSeries(names(rows, 0), numbers(rows, c));
        bar.setTitle(name(table.columns().get(c).title()));
        bar.setFillProperties(fill(color));
      }
    }
    finish(drawn, data, true);
  }

  private XDDFScatterChartData scatter(XSSFChart drawn, Chart.Axis across, Chart.Axis up) {
    XDDFValueAxis x = drawn.createValueAxis(AxisPosition.BOTTOM);
    XDDFValueAxis y = drawn.createValueAxis(AxisPosition.LEFT);
    furnish(x, across);
    furnish(y, up);
    var data = (XDDFScatterChartData) drawn.createData(ChartTypes.SCATTER, x, y);
    data.setStyle(ScatterStyle.LINE_MARKER);
    return data;
  }

  private void furnish(XDDFValueAxis axis, Chart.Axis words) {
    axis.setTitle(OutsideText.clean(words.label()));
    axis.setCrosses(AxisCrosses.MIN);
    axis.setNumberFormat(GENERAL);
    if (chart instanceof Chart.NoiseStability) {
      axis.setLogBase(10);
      axis.setTickLabelPosition(AxisTickLabelPosition.LOW);
    }
  }

  private void line(XDDFScatterChartData data, String name, int[] rows, int y, int color) {
    var line = (XDDFScatterChartData.Series) series(data, name, rows, y);
    line.setMarkerStyle(MarkerStyle.NONE);
    XDDFLineProperties look = new XDDFLineProperties(fill(color));
    look.setWidth(LINE_POINTS);
    line.setLineProperties(look);
    line.setSmooth(false);
  }

  private XDDFChartData.Series series(XDDFScatterChartData data, String name, int[] rows, int y) {
    XDDFChartData.Series series = data.addSeries(numbers(rows, KEY), numbers(rows, y));
    series.setTitle(name(name));
    return series;
  }

  private static void finish(XSSFChart drawn, XDDFChartData data, boolean legend) {
    data.setVaryColors(false);
    drawn.plot(data);
    if (legend) {
      XDDFChartLegend told = drawn.getOrAddLegend();
      told.setPosition(LegendPosition.TOP);
      told.setOverlay(false);
    }
  }

  private static XDDFSolidFillProperties fill(int color) {
    byte[] rgb = {(byte) (color >> 16), (byte) (color >> 8), (byte) color};
    return new XDDFSolidFillProperties(XDDFColor.from(rgb));
  }

  private static CTShapeProperties filled(int color) {
    XDDFShapeProperties shape = new XDDFShapeProperties();
    shape.setFillProperties(fill(color));
    shape.setLineProperties(new XDDFLineProperties(fill(color)));
    return shape.getXmlObject();
  }

  private int[] allRows() {
    return new int[] {0, table.rows().size() - 1};
  }

  private static String name(String name) {
    return OutsideText.shortened(name, LONGEST_NAME);
  }

  /**
   * The last row of the last curve when each ends where the next begins, as load runs that come
   * back to zero do. One line through all of them then shows the same picture as a line for each,
   * and a spreadsheet is not burdened with hundreds of series.
   */
  private OptionalInt lastOfClosed(Map<String, int[]> groups) {
    int next = 0;
    double end = Double.NaN;
    for (int[] rows : groups.values()) {
      double start = number(rows[0], KEY);
      if (rows[0] != next || (next > 0 && start != end)) {
        return OptionalInt.empty();
      }
      end = number(rows[1], KEY);
      next = rows[1] + 1;
    }
    return OptionalInt.of(next - 1);
  }

  private double number(int row, int column) {
    return FormulaValue.numberIn(table.rows().get(row).cells().get(column)).orElseThrow();
  }

  /** Rows of each name in the first column that have numbers in both columns. */
  private Map<String, int[]> groups() {
    Map<String, int[]> groups = new LinkedHashMap<>();
    for (int r = 0; r < table.rows().size(); r++) {
      var cells = table.rows().get(r).cells();
      boolean numbers =
          FormulaValue.numberIn(cells.get(KEY)).isPresent()
              && FormulaValue.numberIn(cells.get(VALUE)).isPresent();
      if (numbers && cells.get(0) instanceof Cell.Text name) {
        int row = r;
        groups.merge(
            name.text(), new int[] {r, r}, (was, now) -> new int[] {was[0], Math.max(was[1], row)});
      }
    }
    return groups;
  }

  /**
   * Numbers of a column, with the cells that hold them: they show before anything is calculated.
   */
  private XDDFNumericalDataSource<Double> numbers(int[] rows, int column) {
    List<Cell> cells = cells(rows, column);
    Double[] numbers = new Double[cells.size()];
    for (int i = 0; i < numbers.length; i++) {
      OptionalDouble number = FormulaValue.numberIn(cells.get(i));
      if (number.isPresent()) {
        numbers[i] = number.getAsDouble();
      }
    }
    XDDFNumericalDataSource<Double> source =
        XDDFDataSourcesFactory.fromArray(numbers, range(rows, column));
    source.setFormatCode(GENERAL);
    return source;
  }

  private XDDFCategoryDataSource names(int[] rows, int column) {
    String[] names =
        cells(rows, column).stream()
            .map(cell -> cell instanceof Cell.Text text ? OutsideText.clean(text.text()) : "")
            .toArray(String[]::new);
    return XDDFDataSourcesFactory.fromArray(names, range(rows, column));
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
