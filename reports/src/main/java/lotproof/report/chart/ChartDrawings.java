package lotproof.report.chart;

import java.util.Map;
import java.util.concurrent.ConcurrentHashMap;
import lotproof.report.model.Chart;

/** Drawings that the writers of one report share, so that no chart is drawn twice in one size. */
public final class ChartDrawings {
  private record Drawn(Chart chart, ChartDrawing drawing) {}

  private final Map<String, Drawn> wide = new ConcurrentHashMap<>();
  private final Map<String, Drawn> narrow = new ConcurrentHashMap<>();

  /** The drawing of a chart; drawn at the first call. */
  public ChartDrawing of(Chart chart, ChartSize size) {
    Map<String, Drawn> drawings = size == ChartSize.WIDE ? wide : narrow;
    Drawn drawn =
        drawings.computeIfAbsent(
            chart.caption().id(), id -> new Drawn(chart, ChartDrawing.of(chart, size)));
    if (drawn.chart() != chart) {
      throw new IllegalArgumentException(
          "two charts of different reports have the id " + chart.caption().id());
    }
    return drawn.drawing();
  }
}
