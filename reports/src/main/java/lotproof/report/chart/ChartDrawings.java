package lotproof.report.chart;

import java.util.Map;
import java.util.concurrent.ConcurrentHashMap;
import lotproof.report.model.Chart;

/** Drawings that the writers of one report share, so that no chart is drawn twice in one size. */
public final class ChartDrawings {
  private record Key(String id, ChartSize size) {}

  private record Drawn(Chart chart, ChartDrawing drawing) {}

  private final Map<Key, Drawn> drawings = new ConcurrentHashMap<>();

  /** The drawing of a chart; drawn at the first call. */
  public ChartDrawing of(Chart chart, ChartSize size) {
    Key key = new Key(chart.caption().id(), size);
    Drawn drawn =
        drawings.computeIfAbsent(key, k -> new Drawn(chart, ChartDrawing.of(chart, size)));
    if (drawn.chart() != chart) {
      throw new IllegalArgumentException(
          "two charts of different reports have the id " + chart.caption().id());
    }
    return drawn.drawing();
  }
}
