package lotproof.report.model;

import java.util.List;
import java.util.Optional;
import lotproof.report.model.Chart.Axis;
import lotproof.report.model.Formula.Range;

/**
 * A spreadsheet's own chart of cells, so that it follows when they change.
 *
 * @param title what it shows
 * @param says what is seen, for those who cannot see it
 * @param names cells with the names of the places; none where places are numbers
 * @param across axis of the places
 * @param up axis of the values
 * @param series what is drawn, the first below the others
 */
public record SheetChart(
    String title, String says, Optional<Range> names, Axis across, Axis up, List<Series> series) {
  public SheetChart {
    series = List.copyOf(series);
  }

  /** How a series is drawn. */
  public enum Look {
    DOTS,
    LINE,
    /** A line that limits something. */
    EDGE,
    /** A figure that someone would like to print. */
    WANTED,
    /** Where the bars of the next series begin; not drawn. */
    BASE,
    /** Lying bars, one on the other. */
    BARS
  }

  /** Numbers in cells. */
  public sealed interface Values {
    /** Numbers in a column. */
    record Cells(Range range) implements Values {}

    /** Numbers in one row of a table, counted from 0, between two columns. */
    record Row(String table, String firstColumn, String lastColumn, int row) implements Values {
      /** The same columns of another row. */
      public Row in(int other) {
        return new Row(table, firstColumn, lastColumn, other);
      }
    }
  }

  /** How far a dot's interval reaches below and above it. */
  public record Interval(Range below, Range above) {}

  /**
   * Values that belong together.
   *
   * @param places where they stand, where places have no names
   */
  public record Series(
      String name, Look look, Optional<Values> places, Values values, Optional<Interval> interval) {
    /** Cells over named places. */
    public static Series of(String name, Look look, Range values) {
      return new Series(name, look, Optional.empty(), new Values.Cells(values), Optional.empty());
    }

    /** Cells of a row over those of another. */
    public static Series of(String name, Look look, Values.Row values, int places) {
      return new Series(name, look, Optional.of(values.in(places)), values, Optional.empty());
    }

    /** The same with intervals. */
    public Series within(Range below, Range above) {
      return new Series(name, look, places, values, Optional.of(new Interval(below, above)));
    }
  }
}
