package lotproof.report.page;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.SerializationFeature;
import com.fasterxml.jackson.databind.json.JsonMapper;
import java.math.BigDecimal;
import java.math.MathContext;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import lotproof.report.model.Chart;
import lotproof.report.model.Chart.Axis;
import lotproof.report.model.Chart.Look;
import lotproof.report.model.Chart.Mark;
import lotproof.report.model.Chart.Point;
import lotproof.report.model.Chart.Scale;
import lotproof.report.model.Chart.Series;
import lotproof.report.model.Level;
import lotproof.report.text.SanitizedText;

/** What the page's script works with, as data within the page. No browser runs it. */
public final class PageJson {
  private static final JsonMapper JSON =
      JsonMapper.builder().enable(SerializationFeature.ORDER_MAP_ENTRIES_BY_KEYS).build();
  private static final MathContext DIGITS = new MathContext(6);

  private PageJson() {}

  /**
   * A chart: its axes, and a list of {@code [name, [[x, y, label], ...]]} of what can be pointed
   * at. Values of logarithmic axes are logarithms.
   */
  public static String of(Chart chart) {
    List<List<Object>> series = new ArrayList<>();
    for (Series one : chart.series()) {
      Look look = one.look();
      if (look != Look.EDGE && look != Look.MODEL && look != Look.WANTED && look != Look.FROM) {
        series.add(
            List.of(
                SanitizedText.clean(one.name()),
                one.points().stream().map(point -> point(chart, point)).toList()));
      }
    }
    List<Object> marks = new ArrayList<>();
    for (Mark mark : chart.marks()) {
      marks.add(
          List.of(
              SanitizedText.clean(mark.label()),
              place(mark.upright() ? chart.across() : chart.up(), mark.value()),
              mark.upright() ? 1 : 0));
    }
    return text(
        Map.of("x", axis(chart.across()), "y", axis(chart.up()), "series", series, "marks", marks));
  }

  /** What any wanted figure of a level is judged by. */
  public static String of(Level.Trial trial) {
    Map<String, Object> all = new LinkedHashMap<>();
    all.put("limit", trial.limitGrams());
    all.put("signs", trial.signs());
    trial.wantedGrams().ifPresent(grams -> all.put("wanted", grams));
    all.put("confidence", trial.confidence().stream().map(p -> List.of(p.x(), p.y())).toList());
    Level.Grid grid = trial.grid();
    all.put("asked", List.of(grid.content(), grid.confidence()));
    all.put("step", grid.stepGrams());
    all.put(
        "grid",
        grid.limits().stream()
            .filter(limit -> limit.limitGrams().isPresent())
            .map(
                limit ->
                    List.of(limit.content(), limit.confidence(), limit.limitGrams().getAsDouble()))
            .toList());
    return text(all);
  }

  private static Map<String, Object> axis(Axis axis) {
    return Map.of(
        "title", SanitizedText.clean(axis.title()),
        "unit", SanitizedText.clean(axis.unit()),
        "scale", axis.scale().name(),
        "words", axis.words().stream().map(SanitizedText::clean).toList());
  }

  private static List<Object> point(Chart chart, Point point) {
    double x = place(chart.across(), point.x());
    double y = place(chart.up(), point.y());
    return point.label().isEmpty()
        ? List.of(x, y)
        : List.of(x, y, SanitizedText.clean(point.label()));
  }

  private static double place(Axis axis, double value) {
    double place = axis.scale() == Scale.LOGARITHMIC ? Math.log10(value) : value;
    return new BigDecimal(place).round(DIGITS).doubleValue();
  }

  /** Text that may stand in a page as it is: it holds no character that HTML or XML obeys. */
  private static String text(Object value) {
    try {
      return JSON.writeValueAsString(value)
          .replace("&", "\\u0026")
          .replace("<", "\\u003c")
          .replace(">", "\\u003e");
    } catch (JsonProcessingException e) {
      throw new IllegalStateException("numbers and words can always be written", e);
    }
  }
}
