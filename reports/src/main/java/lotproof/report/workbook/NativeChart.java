package lotproof.report.workbook;

import java.util.List;
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

  private final Chart chart;
  private final Layout.Spot spot;
  private final Table table;

  /** Column of the values across; those upward follow it. */
  private final int across;

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
    this.across = table.columns().size() - 2;
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
    if (chart.inRows()) {
      bars(drawn);
    } else if (chart.across().ofWords()) {
      units(drawn);
    } else {
      curves(drawn);
    }
  }

  /** Lines and dots; many lines that are not told from one another as dots. */
  private void curves(XSSFChart drawn) {
    // an axis that is made resets where the other one crosses
    XDDFValueAxis x = drawn.createValueAxis(AxisPosition.BOTTOM);
    XDDFValueAxis y = drawn.createValueAxis(AxisPosition.LEFT);
    furnish(x, chart.across());
    furnish(y, chart.up());
    var data = (XDDFScatterChartData) drawn.createData(ChartTypes.SCATTER, x, y);
    data.setStyle(ScatterStyle.LINE_MARKER);
    int row = 0;
    int quietFrom = 0;
    for (Series series : chart.series()) {
      int from = row;
      row += series.points().size();
      Look look = series.look();
      if (look != Look.RUN) {
        addSeries(data, "runs", quietFrom, from, QUIET, true);
        boolean plain = look == Look.MODEL || look == Look.EDGE;
        int color = plain ? BAND : COLORS[data.getSeriesCount() % COLORS.length];
        addSeries(data, series.name(), from, row, color, look == Look.DOTS);
        quietFrom = row;
      }
    }
    addSeries(data, "runs", quietFrom, row, QUIET, true);
    for (Mark mark : chart.marks()) {
      addSeries(data, mark.label(), row, row + 2, BAND, false);
      row += 2;
    }
    int series = data.getSeriesCount();
    finish(drawn, data, series > 1 && series <= MOST_NAMED);
  }

  private void addSeries(
      XDDFScatterChartData data, String name, int from, int end, int color, boolean dots) {
    if (from == end) {
      return;
    }
    var xs = numbers(from, end, across);
    var series = (XDDFScatterChartData.Series) data.addSeries(xs, numbers(from, end, across + 1));
    series.setTitle(SanitizedText.abridged(name, LONGEST_NAME));
    series.setMarkerStyle(dots ? MarkerStyle.CIRCLE : MarkerStyle.NONE);
    series.setLineProperties(line(color, dots));
    if (dots) {
      series.getCTScatterSer().getMarker().setSpPr(filled(color));
    }
    series.setSmooth(false);
  }

  /** Dots over the names of the units. */
  private void units(XSSFChart drawn) {
    XDDFCategoryAxis names = drawn.createCategoryAxis(AxisPosition.BOTTOM);
    names.setTitle(SanitizedText.clean(chart.across().title()));
    names.setCrosses(AxisCrosses.MIN);
    XDDFValueAxis values = drawn.createValueAxis(AxisPosition.LEFT);
    furnish(values, chart.up());
    values.setCrossBetween(AxisCrossBetween.BETWEEN);
    var data = (XDDFLineChartData) drawn.createData(ChartTypes.LINE, names, values);
    data.setGrouping(Grouping.STANDARD);
    int end = chart.points().size();
    var dots =
        (XDDFLineChartData.Series) data.addSeries(names(end, 1), numbers(0, end, across + 1));
    dots.setTitle("units");
    dots.setMarkerStyle(MarkerStyle.CIRCLE);
    dots.setLineProperties(line(COLORS[0], true));
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
    int end = table.rows().size();
    for (int s = 0; s < chart.series().size(); s++) {
      Series series = chart.series().get(s);
      if (series.look() != Look.FROM && !series.points().isEmpty()) {
        int color = COLORS[data.getSeriesCount() % COLORS.length];
        XDDFChartData.Series bar = data.addSeries(names(end, 0), numbers(0, end, s + 1));
        bar.setTitle(SanitizedText.abridged(series.name(), LONGEST_NAME));
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
      drawn.getOrAddLegend().setPosition(LegendPosition.TOP);
      drawn.getOrAddLegend().setOverlay(false);
    }
  }

  private static XDDFSolidFillProperties fill(int color) {
    byte[] rgb = {(byte) (color >> 16), (byte) (color >> 8), (byte) color};
    return new XDDFSolidFillProperties(XDDFColor.from(rgb));
  }

  private static XDDFLineProperties line(int color, boolean none) {
    if (none) {
      return new XDDFLineProperties(new XDDFNoFillProperties());
    }
    XDDFLineProperties line = new XDDFLineProperties(fill(color));
    line.setWidth(LINE_POINTS);
    return line;
  }

  private static CTShapeProperties filled(int color) {
    XDDFShapeProperties shape = new XDDFShapeProperties();
    shape.setFillProperties(fill(color));
    shape.setLineProperties(new XDDFLineProperties(fill(color)));
    return shape.getXmlObject();
  }

  /**
   * Numbers of a column, with the cells that hold them: they show before anything is calculated.
   */
  private XDDFNumericalDataSource<Double> numbers(int from, int end, int column) {
    Double[] numbers = new Double[end - from];
    for (int i = 0; i < numbers.length; i++) {
      Cell cell = table.rows().get(from + i).cells().get(column);
      if (cell instanceof Cell.Numeric number) {
        numbers[i] = number.value();
      }
    }
    var source = XDDFDataSourcesFactory.fromArray(numbers, range(from, end, column));
    source.setFormatCode(GENERAL);
    return source;
  }

  private XDDFCategoryDataSource names(int end, int column) {
    List<String> names =
        table.rows().subList(0, end).stream()
            .map(row -> row.cells().get(column))
            .map(cell -> cell instanceof Cell.Text text ? SanitizedText.clean(text.text()) : "")
            .toList();
    return XDDFDataSourcesFactory.fromArray(names.toArray(String[]::new), range(0, end, column));
  }

  private String range(int from, int end, int column) {
    int c = spot.column(column);
    return new CellRangeAddress(spot.row(from), spot.row(end - 1), c, c)
        .formatAsString(spot.sheet(), true);
  }
}
