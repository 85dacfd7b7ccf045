package lotproof.report.workbook;

import java.util.HashSet;
import java.util.List;
import java.util.Set;
import lotproof.report.model.Cell;
import lotproof.report.model.Chart.Axis;
import lotproof.report.model.Chart.Scale;
import lotproof.report.model.Formula.Range;
import lotproof.report.model.Formula.Rows;
import lotproof.report.model.SheetChart;
import lotproof.report.model.SheetChart.Interval;
import lotproof.report.model.SheetChart.Look;
import lotproof.report.model.SheetChart.Series;
import lotproof.report.model.SheetChart.Values;
import lotproof.report.model.Table;
import lotproof.report.text.SanitizedText;
import lotproof.report.workbook.Layout.Spot;
import org.apache.poi.ss.util.CellRangeAddress;
import org.apache.poi.xddf.usermodel.PresetLineDash;
import org.apache.poi.xddf.usermodel.XDDFColor;
import org.apache.poi.xddf.usermodel.XDDFLineProperties;
import org.apache.poi.xddf.usermodel.XDDFNoFillProperties;
import org.apache.poi.xddf.usermodel.XDDFPresetLineDash;
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
import org.apache.xmlbeans.XmlCursor;
import org.apache.xmlbeans.XmlObject;
import org.openxmlformats.schemas.drawingml.x2006.chart.CTNumRef;
import org.openxmlformats.schemas.drawingml.x2006.chart.STErrBarType;
import org.openxmlformats.schemas.drawingml.x2006.chart.STErrDir;
import org.openxmlformats.schemas.drawingml.x2006.chart.STErrValType;
import org.openxmlformats.schemas.drawingml.x2006.main.CTShapeProperties;

/** The spreadsheet's own chart, drawn from cells; they need not be filled yet. */
final class NativeChart {
  /** Columns that a chart covers. */
  static final int COLUMNS = 10;

  /** Rows that a chart covers. */
  static final int ROWS = 22;

  private static final int LONGEST_NAME = 40;
  private static final int[] COLORS = {0x16325c, 0xc2571a, 0x2a8c82, 0x8e4585, 0xb59a2e, 0x5a6b7b};
  private static final int EDGE_COLOR = 0x2a8c82;
  private static final int WANTED_COLOR = 0x8a1c1c;
  private static final String GENERAL = "General";
  private static final double TITLE_POINTS = 11;

  private final SheetChart chart;
  private final Layout layout;
  private final List<String> names;

  NativeChart(SheetChart chart, Layout layout) {
    this.chart = chart;
    this.layout = layout;
    this.names = chart.series().stream().map(Series::name).distinct().toList();
  }

  /** Draws it where a row and a column begin, with words for those who cannot see it. */
  void drawOn(XSSFSheet sheet, int top, int left) {
    XSSFDrawing drawing = sheet.createDrawingPatriarch();
    var anchor = drawing.createAnchor(0, 0, 0, 0, left, top, left + COLUMNS, top + ROWS);

    XSSFChart drawn = drawing.createChart(anchor);
    var frame = drawn.getGraphicFrame();
    frame.setName("Chart " + drawing.getCharts().size());
    var words = frame.getCTGraphicalObjectFrame().getNvGraphicFramePr().getCNvPr();
    words.setTitle(SanitizedText.clean(chart.title()));
    words.setDescr(SanitizedText.clean(chart.says()));
    drawn.setTitleText(SanitizedText.clean(chart.title()));
    drawn.setTitleOverlay(false);
    drawn.getTitle().getBody().getParagraph(0).getTextRuns().get(0).setFontSize(TITLE_POINTS);
    drawn.setAutoTitleDeleted(false);
    drawn.getCTChartSpace().addNewRoundedCorners().setVal(false);
    // a series that is shorter than another must not run on to zero
    drawn.displayBlanksAs(DisplayBlanks.GAP);
    if (chart.series().get(0).look() == Look.BARS || chart.series().get(0).look() == Look.BASE) {
      bars(drawn);
    } else if (chart.names().isPresent()) {
      named(drawn);
    } else {
      placed(drawn);
    }
  }

  /** Dots and lines over numbers. */
  private void placed(XSSFChart drawn) {
    // an axis that is made resets where the other one crosses
    XDDFValueAxis x = drawn.createValueAxis(AxisPosition.BOTTOM);
    XDDFValueAxis y = drawn.createValueAxis(AxisPosition.LEFT);
    furnish(x, chart.across());
    furnish(y, chart.up());
    var places =
        chart.series().stream()
            .flatMap(series -> cells(series.places().orElseThrow()).stream())
            .flatMapToDouble(cell -> cell.number().stream())
            .summaryStatistics();
    double step = step(places.getMax() - places.getMin());
    x.setMinimum(step * Math.floor(places.getMin() / step));
    x.setMaximum(step * Math.ceil(places.getMax() / step));
    x.setMajorUnit(step);
    var data = (XDDFScatterChartData) drawn.createData(ChartTypes.SCATTER, x, y);
    data.setStyle(ScatterStyle.LINE_MARKER);
    for (Series one : chart.series()) {
      var series =
          (XDDFScatterChartData.Series)
              data.addSeries(source(one.places().orElseThrow()), source(one.values()));
      series.setTitle(SanitizedText.abridged(one.name(), LONGEST_NAME));
      boolean dots = one.look() == Look.DOTS;
      series.setMarkerStyle(dots ? MarkerStyle.CIRCLE : MarkerStyle.NONE);
      series.setLineProperties(line(one));
      series.setSmooth(false);
      if (dots) {
        set(series.getCTScatterSer().getMarker().addNewSize(), "4");
        series.getCTScatterSer().getMarker().setSpPr(filled(color(one)));
      }
    }
    finish(drawn, data);
  }

  /** A tenth of a span or somewhat more: 1, 2 or 5 times a power of ten. */
  private static double step(double span) {
    double power = Math.pow(10, Math.floor(Math.log10(Math.max(span, 1e-9) / 10)));
    double tenth = span / 10 / power;
    return power * (tenth <= 1 ? 1 : tenth <= 2 ? 2 : tenth <= 5 ? 5 : 10);
  }

  /** Dots and lines over names. */
  private void named(XSSFChart drawn) {
    XDDFCategoryAxis names = drawn.createCategoryAxis(AxisPosition.BOTTOM);
    names.setTitle(SanitizedText.clean(chart.across().title()));
    names.setCrosses(AxisCrosses.MIN);
    names.setTickLabelPosition(AxisTickLabelPosition.LOW);
    XDDFValueAxis values = drawn.createValueAxis(AxisPosition.LEFT);
    furnish(values, chart.up());
    values.setCrossBetween(AxisCrossBetween.BETWEEN);
    var data = (XDDFLineChartData) drawn.createData(ChartTypes.LINE, names, values);
    data.setGrouping(Grouping.STANDARD);
    for (Series one : chart.series()) {
      var series = (XDDFLineChartData.Series) data.addSeries(names(), source(one.values()));
      series.setTitle(SanitizedText.abridged(one.name(), LONGEST_NAME));
      boolean dots = one.look() == Look.DOTS;
      series.setMarkerStyle(dots ? MarkerStyle.CIRCLE : MarkerStyle.NONE);
      series.setLineProperties(line(one));
      series.setSmooth(false);
      if (dots) {
        series.getCTLineSer().getMarker().setSpPr(filled(color(one)));
      }
      one.interval().ifPresent(interval -> addBars(series, interval));
    }
    finish(drawn, data);
  }

  private void addBars(XDDFLineChartData.Series series, Interval interval) {
    var markup = series.getCTLineSer().addNewErrBars();
    markup.addNewErrDir().setVal(STErrDir.Y);
    markup.addNewErrBarType().setVal(STErrBarType.BOTH);
    markup.addNewErrValType().setVal(STErrValType.CUST);
    markup.addNewNoEndCap().setVal(false);
    fill(markup.addNewPlus().addNewNumRef(), new Values.Cells(interval.above()));
    fill(markup.addNewMinus().addNewNumRef(), new Values.Cells(interval.below()));
    markup.setSpPr(filled(COLORS[0]));
  }

  private void fill(CTNumRef markup, Values values) {
    XDDFNumericalDataSource<Double> source = source(values);
    markup.setF(source.getFormula());
    source.fillNumericalCache(markup.addNewNumCache());
  }

  /** Lying bars, the first on top as in the table. */
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
    data.setBarGrouping(BarGrouping.STACKED);
    var bars = drawn.getCTChart().getPlotArea().getBarChartArray(0);
    set(bars.addNewGapWidth(), "40");
    set(bars.addNewOverlap(), "100");
    for (Series one : chart.series()) {
      XDDFChartData.Series bar = data.addSeries(names(), source(one.values()));
      bar.setTitle(SanitizedText.abridged(one.name(), LONGEST_NAME));
      bar.setFillProperties(
          one.look() == Look.BASE ? new XDDFNoFillProperties() : fill(color(one)));
    }
    finish(drawn, data);
  }

  /** As words: the library's own numbers of this kind need schemas that it does not carry. */
  private static void set(XmlObject setting, String value) {
    try (XmlCursor cursor = setting.newCursor()) {
      cursor.toFirstContentToken();
      cursor.insertAttributeWithValue("val", value);
    }
  }

  private static void furnish(XDDFValueAxis axis, Axis words) {
    axis.setTitle(SanitizedText.clean(words.label()));
    axis.setCrosses(AxisCrosses.MIN);
    axis.setNumberFormat(words.scale() == Scale.FRACTION ? "0%" : GENERAL);
    axis.setTickLabelPosition(AxisTickLabelPosition.LOW);
    if (words.scale() == Scale.LOGARITHMIC) {
      axis.setLogBase(10);
    }
  }

  /** A legend that names each thing once. */
  private void finish(XSSFChart drawn, XDDFChartData data) {
    data.setVaryColors(false);
    drawn.plot(data);
    if (names.size() < 2 || data instanceof XDDFBarChartData) {
      return;
    }
    var legend = drawn.getOrAddLegend();
    legend.setPosition(LegendPosition.TOP);
    legend.setOverlay(false);
    Set<String> named = new HashSet<>();
    for (int s = 0; s < chart.series().size(); s++) {
      Series one = chart.series().get(s);
      if (!named.add(one.name())) {
        var entry = legend.addEntry();
        entry.setIndex(s);
        entry.setDelete(true);
      }
    }
  }

  private int color(Series one) {
    return switch (one.look()) {
      case EDGE -> EDGE_COLOR;
      case WANTED -> WANTED_COLOR;
      default -> COLORS[names.indexOf(one.name()) % COLORS.length];
    };
  }

  private static XDDFSolidFillProperties fill(int color) {
    byte[] rgb = {(byte) (color >> 16), (byte) (color >> 8), (byte) color};
    return new XDDFSolidFillProperties(XDDFColor.from(rgb));
  }

  private XDDFLineProperties line(Series one) {
    if (one.look() == Look.DOTS) {
      return new XDDFLineProperties(new XDDFNoFillProperties());
    }
    XDDFLineProperties line = new XDDFLineProperties(fill(color(one)));
    line.setWidth(1.5);
    if (one.look() == Look.WANTED) {
      line.setPresetDash(new XDDFPresetLineDash(PresetLineDash.DASH));
    }
    return line;
  }

  private static CTShapeProperties filled(int color) {
    XDDFShapeProperties shape = new XDDFShapeProperties();
    shape.setFillProperties(fill(color));
    shape.setLineProperties(new XDDFLineProperties(fill(color)));
    return shape.getXmlObject();
  }

  /** Numbers with the cells that hold them: they show before anything is calculated. */
  private XDDFNumericalDataSource<Double> source(Values values) {
    List<Cell> cells = cells(values);
    Double[] numbers = new Double[cells.size()];
    for (int i = 0; i < numbers.length; i++) {
      if (cells.get(i) instanceof Cell.Numeric number) {
        numbers[i] = number.value();
      }
    }
    String reference =
        values instanceof Values.Row row
            ? reference(row)
            : reference(((Values.Cells) values).range());
    var source = XDDFDataSourcesFactory.fromArray(numbers, reference);
    source.setFormatCode(GENERAL);
    return source;
  }

  private XDDFCategoryDataSource names() {
    Range range = chart.names().orElseThrow();
    String[] words =
        cells(range).stream()
            .map(cell -> cell instanceof Cell.Text text ? SanitizedText.clean(text.text()) : "")
            .toArray(String[]::new);
    return XDDFDataSourcesFactory.fromArray(words, reference(range));
  }

  private List<Cell> cells(Values values) {
    return values instanceof Values.Row row ? cells(row) : cells(((Values.Cells) values).range());
  }

  private List<Cell> cells(Range range) {
    Table table = layout.spot(range.table()).table();
    int column = table.columnIndex(range.column());
    Rows rows = range.rows().get(0);
    return table.rows().subList(rows.first(), rows.last() + 1).stream()
        .map(row -> row.cells().get(column))
        .toList();
  }

  private List<Cell> cells(Values.Row row) {
    Table table = layout.spot(row.table()).table();
    int first = table.columnIndex(row.firstColumn());
    int last = table.columnIndex(row.lastColumn());
    return table.rows().get(row.row()).cells().subList(first, last + 1);
  }

  private String reference(Range range) {
    Rows rows = range.rows().get(0);
    return reference(range.table(), rows, range.column(), range.column());
  }

  private String reference(Values.Row row) {
    Rows rows = new Rows(row.row(), row.row());
    return reference(row.table(), rows, row.firstColumn(), row.lastColumn());
  }

  private String reference(String table, Rows rows, String firstColumn, String lastColumn) {
    Spot spot = layout.spot(table);
    return new CellRangeAddress(
            spot.row(rows.first()),
            spot.row(rows.last()),
            spot.table().columnIndex(firstColumn),
            spot.table().columnIndex(lastColumn))
        .formatAsString(spot.sheet(), true);
  }
}
