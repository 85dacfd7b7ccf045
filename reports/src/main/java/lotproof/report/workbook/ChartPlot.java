package lotproof.report.workbook;

import java.util.List;
import java.util.OptionalDouble;

/**
 * What a chart of a sheet draws.
 *
 * @param kind how
 * @param across horizontal axis, or the axis of the bars' lengths
 * @param up vertical axis, or the axis of the bars' names, which has no title then
 * @param series what is drawn; at least one
 * @param legend whether the series are told apart by a legend
 */
record ChartPlot(Kind kind, Axis across, Axis up, List<Series> series, boolean legend) {

  /** Kinds of chart. */
  enum Kind {
    /** Points or lines over numbers. */
    POINTS,
    /** Dots over names. */
    DOTS,
    /** Lying bars, the first on top, from zero. */
    BARS
  }

  /**
   * An axis.
   *
   * @param title its title with the unit; empty for none
   * @param logarithmic whether each step is a factor of ten
   */
  record Axis(String title, boolean logarithmic) {}

  /**
   * What belongs together.
   *
   * @param name its name in the legend
   * @param keys numbers across, or names
   * @param values numbers up
   * @param look how it is drawn
   * @param color red, green and blue, such as 0x16325c
   */
  record Series(String name, Keys keys, Numbers values, Look look, int color) {}

  /** How a series is drawn. */
  enum Look {
    LINE,
    MARKERS,
    FILL
  }

  /** What values stand over: names or numbers. */
  sealed interface Keys permits Names, Numbers {}

  /**
   * Names in cells.
   *
   * @param range the cells
   * @param names what they hold
   */
  record Names(String range, List<String> names) implements Keys {}

  /**
   * Numbers in cells.
   *
   * @param range the cells
   * @param numbers what they hold; nothing for a cell without number
   */
  record Numbers(String range, List<OptionalDouble> numbers) implements Keys {}

  ChartPlot {
    series = List.copyOf(series);
  }
}
