package lotproof.report.chart;

import lotproof.report.model.Chart;

/** Draws charts for a page. */
public final class ChartDrawings {
  /**
   * A chart as vectors.
   *
   * @param inlineSvg the drawing, to be set into a page
   */
  public record Drawing(String inlineSvg) {}

  /** The drawing of a chart. */
  public Drawing of(Chart chart, ChartSize size) {
    return new Drawing(ChartDrawing.inlineSvg(chart, size));
  }
}
