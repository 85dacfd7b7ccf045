package lotproof.report.workbook;

import java.util.List;
import java.util.OptionalDouble;
import lotproof.report.model.Cell;
import lotproof.report.model.Chart;
import lotproof.report.model.Chart.Look;
import lotproof.report.model.Chart.Mark;
import lotproof.report.model.Chart.Series;
import lotproof.report.model.Table;
import lotproof.report.text.SanitizedText;
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
   * Draws it at the left of a sheet, with words for those who cannot see it. Without a point there
   * is no chart.
   *
   * @param top first row of the chart, counted from 0
   */
  void drawOn(XSSFSheet sheet, int top) {
    if (chart.points().isEmpty()) {
      return;
    }
    XSSFChart drawn = framed(sheet, top);
    if (chart.inRows()) {
      bars(drawn);
    } else if (chart.across().ofWords()) {
      units(drawn);
    } else {
      curves(drawn);
    }
  }

  private XSSFChart framed(XSSFSheet sheet, int top) {
    XSSFDrawing drawing = sheet.createDrawingPatriarch();
    int bottom = top + SheetPlan.CHART_ROWS;
    XSSFChart drawn =
        drawing.createChart(
            drawing.createAnchor(0, 0, 0, 0, 0, top, SheetPlan.CHART_COLUMNS, bottom));
    String question = SanitizedText.clean(chart.caption().question());
    var frame = drawn.getGraphicFrame();
    frame.setName("Chart " + drawing.getCharts().size());
    var words = frame.getCTGraphicalObjectFrame().getNvGraphicFramePr().getCNvPr();
    words.setTitle(question);
    words.setDescr(SanitizedText.clean(chart.caption().answer()));
    drawn.setTitleText(question);
    drawn.setTitleOverlay(false);
    drawn.setAutoTitleDeleted(false);
    drawn.getCTChartSpace().addNewRoundedCorners().setVal(false);
    // a series that is shorter than another must not run on to zero
    drawn.displayBlanksAs(DisplayBlanks.GAP);
    return drawn;
  }

  /** Lines and dots; many lines that are not told from one another as dots. */
  private void curves(XSSFChart drawn) {
    XDDFValueAxis x = drawn.createValueAxis(AxisPosition.BOTTOM);
    XDDFValueAxis y = drawn.createValueAxis(AxisPosition.LEFT);
    furnish(x, chart.across());
    furnish(y, chart.up());
    var data = (XDDFScatterChartData) drawn.createData(ChartTypes.SCATTER, x, y);
    data.setStyle(ScatterStyle.LINE_MARKER);
    int row = 0;
    int[] quiet = {0, -1};
    for (Series series : chart.series()) {
      int[] rows = {row, row + series.points().size() - 1};
      row = rows[1] + 1;
      if (series.look() == Look.QUIET_LINE) {
        quiet[1] = rows[1];
      } else {
        addQuiet(data, quiet);
        quiet = new int[] {row, row - 1};
        Look look = series.look();
        boolean plain = look == Look.MODEL || look == Look.EDGE;
        int color = plain ? BAND : COLORS[data.getSeriesCount() % COLORS.length];
        addSeries(data, series.name(), rows, color, look == Look.DOTS);
      }
    }
    addQuiet(data, quiet);
    for (Mark mark : chart.marks()) {
      addSeries(data, mark.label(), new int[] {row, row + 1}, BAND, false);
      row += 2;
    }
    int series = data.getSeriesCount();
    finish(drawn, data, series > 1 && series <= MOST_NAMED);
  }

  private void addQuiet(XDDFScatterChartData data, int[] rows) {
    addSeries(data, "other runs", rows, QUIET, true);
  }

  private void addSeries(
      XDDFScatterChartData data, String name, int[] rows, int color, boolean dots) {
    if (rows[1] < rows[0]) {
      return;
    }
    int x = table.columns().size() - (intervals() ? 4 : 2);
    var series =
        (XDDFScatterChartData.Series) data.addSeries(numbers(rows, x), numbers(rows, x + 1));
    series.setTitle(name(name));
    series.setMarkerStyle(dots ? MarkerStyle.CIRCLE : MarkerStyle.NONE);
    if (dots) {
      series.setLineProperties(NO_LINE);
      series.getCTScatterSer().getMarker().setSpPr(filled(color));
    } else {
      XDDFLineProperties look = new XDDFLineProperties(fill(color));
      look.setWidth(LINE_POINTS);
      series.setLineProperties(look);
    }
    series.setSmooth(false);
  }

  private boolean intervals() {
    return chart.points().stream().anyMatch(point -> point.interval().isPresent());
  }

  /** Dots over the names of the units. */
  private void units(XSSFChart drawn) {
    XDDFCategoryAxis names = drawn.createCategoryAxis(AxisPosition.BOTTOM);
    names.setTitle("Unit");
    names.setCrosses(AxisCrosses.MIN);
    XDDFValueAxis values = drawn.createValueAxis(AxisPosition.LEFT);
    furnish(values, chart.up());
    values.setCrossBetween(AxisCrossBetween.BETWEEN);
    var data = (XDDFLineChartData) drawn.createData(ChartTypes.LINE, names, values);
    data.setGrouping(Grouping.STANDARD);
    int[] rows = {0, chart.points().size() - 1};
    int value = table.columns().size() - (intervals() ? 3 : 1);
    var dots = (XDDFLineChartData.Series) data.addSeries(names(rows, 1), numbers(rows, value));
    dots.setTitle("units");
    dots.setMarkerStyle(MarkerStyle.CIRCLE);
    dots.setLineProperties(NO_LINE);
    dots.getCTLineSer().getMarker().setSpPr(filled(COLORS[0]));
    dots.setSmooth(false);
    finish(drawn, data, false);
  }

  /** Lying bars from zero, the first on top as in the table. */
  private void bars(XSSFChart drawn) {
    XDDFCategoryAxis names = drawn.createCategoryAxis(AxisPosition.LEFT);
    names.setOrientation(AxisOrientation.MAX_MIN);
    XDDFValueAxis values = drawn.createValueAxis(AxisPosition.BOTTOM);
    furnish(values, chart.across());
    values.setMinimum(0);
    values.setCrosses(AxisCrosses.MAX);
    values.setCrossBetween(AxisCrossBetween.BETWEEN);
    var data = (XDDFBarChartData) drawn.createData(ChartTypes.BAR, names, values);
    data.setBarDirection(BarDirection.BAR);
    data.setBarGrouping(BarGrouping.CLUSTERED);
    int[] rows = {0, table.rows().size() - 1};
    for (int s = 0; s < chart.series().size(); s++) {
      if (!chart.series().get(s).points().isEmpty()) {
        int color = COLORS[data.getSeriesCount() % COLORS.length];
        XDDFChartData.Series bar = data.addSeries(names(rows, 0), numbers(rows, s + 1));
        bar.setTitle(name(chart.series().get(s).name()));
        bar.setFillProperties(fill(color));
      }
    }
    finish(drawn, data, true);
  }

  private static void furnish(XDDFValueAxis axis, Chart.Axis words) {
    axis.setTitle(SanitizedText.clean(words.label()));
    axis.setCrosses(AxisCrosses.MIN);
    axis.setNumberFormat(GENERAL);
    if (words.scale() == Chart.Scale.LOGARITHMIC) {
      axis.setLogBase(10);
      axis.setTickLabelPosition(AxisTickLabelPosition.LOW);
    }
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

  private static String name(String name) {
    return SanitizedText.shortened(name, LONGEST_NAME);
  }

  /**
   * Numbers of a column, with the cells that hold them: they show before anything is calculated.
   */
  private XDDFNumericalDataSource<Double> numbers(int[] rows, int column) {
    List<Cell> cells = cells(rows, column);
    Double[] numbers = new Double[cells.size()];
    for (int i = 0; i < numbers.length; i++) {
      OptionalDouble number = cells.get(i).number();
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
            .map(cell -> cell instanceof Cell.Text text ? SanitizedText.clean(text.text()) : "")
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
