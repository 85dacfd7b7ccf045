package lotproof.report.chart;

/** Sizes that charts are drawn in. A phone gets its own drawing, so that words stay readable. */
public enum ChartSize {
  /** For a desk and for print. */
  WIDE(760, 400),

  /** For a phone. */
  NARROW(380, 360);

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

  /** Height in drawing units. */
  int height() {
    return height;
  }
}
