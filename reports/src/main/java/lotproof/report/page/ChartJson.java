package lotproof.report.page;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.json.JsonMapper;
import java.math.BigDecimal;
import java.math.MathContext;
import java.util.ArrayList;
import java.util.List;
import lotproof.report.chart.ChartValues;
import lotproof.report.model.Chart;

/**
 * The values of a chart's marks as data within the page: a list of {@code [name, [[x, y, words],
 * ...]]}. No browser runs it.
 */
final class ChartJson {
  private static final JsonMapper JSON = new JsonMapper();
  private static final MathContext PLACE = new MathContext(9);

  private ChartJson() {}

  /** Text that may stand in a page as it is: it holds no character that HTML or XML obeys. */
  static String of(Chart chart) {
    List<List<Object>> all = new ArrayList<>();
    for (ChartValues.Series series : ChartValues.of(chart)) {
      List<List<Object>> marks = new ArrayList<>();
      for (ChartValues.Point mark : series.marks()) {
        marks.add(List.of(shortened(mark.x()), shortened(mark.y()), mark.words()));
      }
      all.add(List.of(series.name(), marks));
    }
    try {
      return JSON.writeValueAsString(all)
          .replace("&", "\\u0026")
          .replace("<", "\\u003c")
          .replace(">", "\\u003e");
    } catch (JsonProcessingException e) {
      throw new IllegalStateException("numbers and words can always be written", e);
    }
  }

  /** Nine digits place a mark; its words carry the value. */
  private static double shortened(double value) {
    return new BigDecimal(value).round(PLACE).doubleValue();
  }
}
