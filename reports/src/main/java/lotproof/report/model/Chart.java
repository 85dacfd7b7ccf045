package lotproof.report.model;

import java.util.List;
import java.util.function.Function;

/**
 * A chart as data: what it asks, two axes, series of points, and lines across. Every writer shows
 * it by these alone: the picture, the table of its numbers, the page and the workbook.
 *
 * @param caption what it asks and shows
 * @param across horizontal axis
 * @param up vertical axis
 * @param series what is drawn, the first below the others
 * @param marks lines across the chart, such as limits
 */
public record Chart(Caption caption, Axis across, Axis up, List<Series> series, List<Mark> marks)
    implements Block {
  public Chart {
    series = List.copyOf(series);
    marks = List.copyOf(marks);
    for (Series one : series) {
      for (Point point : one.points()) {
        across.check(point.x());
        up.check(point.y());
      }
    }
  }

  /** A plain id, the question that is the title, and what is seen, for those who cannot see it. */
  public record Caption(String id, String question, String answer) {
    public Caption {
      Check.id(id, "chart id");
      Check.text(question, "chart question");
      Check.text(answer, "chart answer");
    }
  }

  /** How values lie on an axis. */
  public enum Scale {
    /** Evenly, with some room at both ends. */
    EVEN,
    /** Evenly, from the least to the greatest. */
    EXACT,
    /** Evenly, from zero. */
    FROM_ZERO,
    /** Fractions in 0..1, read as percentages. */
    FRACTION,
    /** By their logarithms; all above 0. */
    LOGARITHMIC,
    /** A word at each whole number from 0; the first on top or on the left. */
    WORDS
  }

  /**
   * An axis.
   *
   * @param unit unit; empty for pure numbers and words
   * @param words the words of an axis of words
   */
  public record Axis(String title, String unit, Scale scale, List<String> words) {
    public Axis {
      Check.text(title, "axis title");
      words = List.copyOf(words);
    }

    /** An axis of numbers. */
    public Axis(String title, String unit, Scale scale) {
      this(title, unit, scale, List.of());
    }

    /** An axis of numbers with some room at both ends. */
    public Axis(String title, String unit) {
      this(title, unit, Scale.EVEN);
    }

    /** An axis of words. */
    public static Axis words(String title, List<String> words) {
      return new Axis(title, "", Scale.WORDS, words);
    }

    /** Title with its unit. */
    public String label() {
      return unit.isEmpty() ? title : title + " [" + unit + "]";
    }

    /** Whether it names things. */
    public boolean ofWords() {
      return scale == Scale.WORDS;
    }

    /** The word nearest to a place. */
    public String wordAt(double place) {
      return words.get((int) Math.rint(place));
    }

    private void check(double place) {
      if (scale == Scale.LOGARITHMIC && !(place > 0)) {
        throw new IllegalArgumentException("a logarithmic axis needs values above 0: " + place);
      }
      if (ofWords() && !(place > -0.5 && place < words.size() - 0.5)) {
        throw new IllegalArgumentException("no word at " + place + " of " + words.size());
      }
    }
  }

  /** How a series is drawn. */
  public enum Look {
    /** Joined points. */
    LINE,
    /** Joined points, each with a dot. */
    DOTTED_LINE,
    /** A dot for each point, of one of many runs that are drawn alike. */
    RUN,
    /** A dot for each point. */
    DOTS,
    /** Where the bars of the next series begin; not drawn. */
    FROM,
    /** A bar for each point, from the series before it or from zero. */
    BARS,
    /** What a model expects of the dots. */
    MODEL,
    /** An edge of a band; two of them have one name. */
    EDGE,
    /** A figure that someone would like to print. */
    WANTED
  }

  /** Points that belong together, in the order they are joined. */
  public record Series(String name, Look look, List<Point> points) {
    public Series {
      points = List.copyOf(points);
    }

    /** A series with a point for each item. */
    public static <T> Series of(String name, Look look, List<T> items, Function<T, Point> point) {
      return new Series(name, look, items.stream().map(point).toList());
    }
  }

  /**
   * A point.
   *
   * @param label what it is, such as the serial of a unit; may be empty
   */
  public record Point(double x, double y, String label) {
    public Point {
      Check.finite(x, "x");
      Check.finite(y, "y");
    }

    /** A point. */
    public Point(double x, double y) {
      this(x, y, "");
    }
  }

  /** A line across the chart; an upright one marks a value of the horizontal axis. */
  public record Mark(String label, double value, boolean upright) {
    public Mark {
      Check.text(label, "label of a mark");
      Check.finite(value, "value of a mark");
    }

    /** A line at a value of the vertical axis. */
    public Mark(String label, double value) {
      this(label, value, false);
    }
  }

  @Override
  public String id() {
    return caption.id();
  }

  /** Id of the table of its numbers. */
  public String tableId() {
    return id() + "-data";
  }

  /** Whether each word of the vertical axis has a line of its own. */
  public boolean inRows() {
    return up.ofWords();
  }

  /** All points of all series. */
  public List<Point> points() {
    return series.stream().flatMap(one -> one.points().stream()).toList();
  }
}
