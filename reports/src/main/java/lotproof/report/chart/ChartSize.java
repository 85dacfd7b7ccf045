package lotproof.report.chart;

import lotproof.report.model.Chart;

/** Sizes that charts are drawn in. A phone gets its own drawing, so that words stay readable. */
public enum ChartSize {
  /** For a desk and for print. */
  WIDE(760, 400),
  /** For a phone. */
  NARROW(380, 360);

  private static final int MAP_HEIGHT = 640;
  private static final int MAP_FRAME = 120;
  private static final int MAP_ROW = 11;

  private final int width;
  private final int height;

  ChartSize(int width, int height) {
    this.width = width;
    this.height = height;
  }

  /** Width in drawing units. */
  int width() {
    return width;
  }

  /** Height in drawing units; a map of many units gets more. */
  int height(Chart chart) {
    if (chart instanceof Chart.ResidualMap map) {
      return Math.max(height, Math.min(MAP_HEIGHT, MAP_FRAME + MAP_ROW * map.boards().size()));
    }
    return height;
  }
}
