package lotproof.report.page;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.json.JsonMapper;
import java.math.BigDecimal;
import java.math.MathContext;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import lotproof.report.model.Chart;
import lotproof.report.model.Chart.Axis;
import lotproof.report.model.Chart.Look;
import lotproof.report.model.Chart.Mark;
import lotproof.report.model.Chart.Point;
import lotproof.report.model.Chart.Scale;
import lotproof.report.model.Chart.Series;
import lotproof.report.model.Quantity;
import lotproof.report.text.PlainText;
import lotproof.report.text.SanitizedText;

/**
 * What a reader learns who points at a mark of a chart, as data within the page: a list of {@code
 * [name, [[x, y, words], ...]]}, with the logarithms of places on logarithmic axes. No browser runs
 * it.
 */
public final class ChartJson {
  /** Most marks of one chart that can be pointed at: those that lie furthest out. */
  private static final int MOST = 4000;

  private static final int DIGITS = 5;
  private static final JsonMapper JSON = new JsonMapper();
  private static final MathContext PLACE = new MathContext(9);

  private final Chart chart;

  private ChartJson(Chart chart) {
    this.chart = chart;
  }

  /** Text that may stand in a page as it is: it holds no character that HTML or XML obeys. */
  public static String of(Chart chart) {
    try {
      return JSON.writeValueAsString(new ChartJson(chart).all())
          .replace("&", "\\u0026")
          .replace("<", "\\u003c")
          .replace(">", "\\u003e");
    } catch (JsonProcessingException e) {
      throw new IllegalStateException("numbers and words can always be written", e);
    }
  }

  private List<List<Object>> all() {
    List<Series> told =
        chart.series().stream()
            .filter(s -> s.look() != Look.EDGE && s.look() != Look.MODEL)
            // what stands out comes first for those who go from mark to mark by keys
            .sorted(Comparator.comparing((Series s) -> s.look() == Look.QUIET_LINE))
            .toList();
    List<Point> points = told.stream().flatMap(s -> s.points().stream()).toList();
    double[] heights = points.stream().mapToDouble(Point::y).sorted().toArray();
    double middle = heights.length == 0 ? 0 : heights[heights.length / 2];
    double least =
        points.stream()
            .map(p -> Math.abs(p.y() - middle))
            .sorted(Comparator.reverseOrder())
            .skip(MOST - 1)
            .findFirst()
            .orElse(0.0);
    List<List<Object>> all = new ArrayList<>();
    for (Series series : told) {
      List<List<Object>> marks =
          series.points().stream()
              .filter(p -> Math.abs(p.y() - middle) >= least)
              .map(p -> mark(p.x(), p.y(), words(p)))
              .toList();
      if (!marks.isEmpty()) {
        all.add(List.of(SanitizedText.clean(series.name()), marks));
      }
    }
    if (!chart.marks().isEmpty() && !points.isEmpty()) {
      all.add(List.of("lines", chart.marks().stream().map(m -> line(m, points)).toList()));
    }
    return all;
  }

  private List<Object> mark(double x, double y, String words) {
    return List.of(place(chart.across(), x), place(chart.up(), y), words);
  }

  /** Nine digits place a mark; its words carry the value. */
  private static double place(Axis axis, double value) {
    double place = axis.scale() == Scale.LOGARITHMIC ? Math.log10(value) : value;
    return new BigDecimal(place).round(PLACE).doubleValue();
  }

  private List<Object> line(Mark mark, List<Point> points) {
    Axis axis = mark.upright() ? chart.across() : chart.up();
    String words = SanitizedText.clean(mark.label()) + ": " + number(axis, mark.value());
    Point middle = points.get(points.size() / 2);
    return mark.upright()
        ? mark(mark.value(), middle.y(), words)
        : mark(middle.x(), mark.value(), words);
  }

  private String words(Point point) {
    Axis across = chart.across();
    Axis up = chart.up();
    Axis value = chart.inRows() ? across : up;
    String label = SanitizedText.clean(point.label());
    String place = chart.inRows() ? named(up, point.y()) : named(across, point.x());
    return (label.isEmpty() || chart.inRows() ? place : label + ", " + place)
        + ": "
        + number(value, chart.inRows() ? point.x() : point.y());
  }

  private static String named(Axis axis, double value) {
    if (axis.ofWords()) {
      return SanitizedText.clean(axis.wordAt(value));
    }
    return axis.unit().isEmpty()
        ? SanitizedText.clean(axis.title()) + " " + number(axis, value)
        : number(axis, value);
  }

  private static String number(Axis axis, double value) {
    boolean whole = value == Math.rint(value) && Math.abs(value) < 1e9;
    return PlainText.of(
        axis.scale() == Scale.FRACTION
            ? Quantity.percent(value, 2)
            : whole
                ? Quantity.of(value, axis.unit(), 0)
                : Quantity.significant(value, axis.unit(), DIGITS));
  }
}
