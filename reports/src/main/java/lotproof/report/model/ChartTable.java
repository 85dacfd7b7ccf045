package lotproof.report.model;

import java.util.ArrayList;
import java.util.DoubleSummaryStatistics;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import java.util.function.Function;
import java.util.function.ToDoubleFunction;
import lotproof.report.model.Chart.Axis;
import lotproof.report.model.Chart.Interval;
import lotproof.report.model.Chart.Mark;
import lotproof.report.model.Chart.Point;
import lotproof.report.model.Chart.Scale;
import lotproof.report.model.Chart.Series;
import lotproof.report.model.Table.Column;
import lotproof.report.model.Table.Role;
import lotproof.report.model.Table.Row;

/**
 * The numbers behind a chart as a table: for those who cannot see the chart, for the workbook's own
 * charts and for anyone who wants to draw it again. A chart in rows gives a row for each word and a
 * column for each series; any other chart a row for each point, series by series, and then its
 * marks.
 */
public final class ChartTable {
  private static final int DIGITS = 6;

  private final Chart chart;
  private final List<Column> columns = new ArrayList<>();
  private final List<Row> rows = new ArrayList<>();
  private final Set<String> keys = new TreeSet<>();

  private ChartTable(Chart chart) {
    this.chart = chart;
  }

  /** All numbers of a chart, in the order they are drawn. */
  public static Table of(Chart chart) {
    ChartTable table = new ChartTable(chart);
    if (chart.inRows()) {
      table.addWords();
    } else {
      table.addPoints();
    }
    return new Table(
        chart.tableId(),
        "Numbers behind: " + chart.caption().question(),
        Role.EVIDENCE,
        table.columns,
        table.rows,
        Prose.none());
  }

  /** Id of the table of numbers behind a chart. */
  public static String idOf(Chart chart) {
    return chart.tableId();
  }

  private void addWords() {
    columns.add(column(chart.up(), chart.up().title()));
    chart.series().forEach(series -> columns.add(column(chart.across(), series.name())));
    addIntervalColumns(chart.across());
    for (int row = 0; row < chart.up().words().size(); row++) {
      int at = row;
      List<Cell> cells = new ArrayList<>(List.of(Cell.text(chart.up().words().get(row))));
      Optional<Interval> interval = Optional.empty();
      for (Series series : chart.series()) {
        Optional<Point> point =
            series.points().stream().filter(p -> Math.rint(p.y()) == at).findFirst();
        cells.add(point.map(p -> Cell.number(p.x())).orElse(Cell.missing("none")));
        interval = interval.or(() -> point.flatMap(Point::interval));
      }
      addIntervalCells(cells, interval);
      rows.add(new Row(cells));
    }
  }

  private void addPoints() {
    boolean labels = chart.points().stream().anyMatch(point -> !point.label().isEmpty());
    columns.add(Column.text(key("series"), "Series"));
    if (labels) {
      columns.add(Column.serial(key("label"), "Label"));
    }
    columns.add(column(chart.across(), chart.across().title()));
    columns.add(column(chart.up(), chart.up().title()));
    addIntervalColumns(chart.up());
    for (Series series : chart.series()) {
      for (Point point : series.points()) {
        Cell x =
            chart.across().ofWords()
                ? Cell.text(chart.across().wordAt(point.x()))
                : Cell.number(point.x());
        addRow(series.name(), labels, point.label(), x, Cell.number(point.y()), point.interval());
      }
    }
    chart.marks().forEach(mark -> addMark(mark, labels));
  }

  /** Two points, so that a spreadsheet can draw the line; one value where there is no extent. */
  private void addMark(Mark mark, boolean labels) {
    ToDoubleFunction<Point> other = mark.upright() ? Point::y : Point::x;
    DoubleSummaryStatistics extent = chart.points().stream().mapToDouble(other).summaryStatistics();
    boolean drawn = extent.getCount() > 0 && !chart.across().ofWords();
    Cell value = Cell.number(mark.value());
    List<Cell> ends =
        drawn
            ? List.of(Cell.number(extent.getMin()), Cell.number(extent.getMax()))
            : List.of(Cell.missing("a line"));
    for (Cell end : ends) {
      addRow(
          mark.label(),
          labels,
          "",
          mark.upright() ? value : end,
          mark.upright() ? end : value,
          Optional.empty());
    }
  }

  private void addRow(
      String series, boolean labels, String label, Cell x, Cell y, Optional<Interval> interval) {
    List<Cell> cells = new ArrayList<>(List.of(Cell.text(series)));
    if (labels) {
      cells.add(Cell.text(label));
    }
    cells.add(x);
    cells.add(y);
    addIntervalCells(cells, interval);
    rows.add(new Row(cells));
  }

  private boolean intervals() {
    return chart.points().stream().anyMatch(point -> point.interval().isPresent());
  }

  private void addIntervalColumns(Axis axis) {
    if (intervals()) {
      columns.add(column(axis, "Lower end"));
      columns.add(column(axis, "Upper end"));
    }
  }

  private void addIntervalCells(List<Cell> cells, Optional<Interval> interval) {
    if (intervals()) {
      List.<Function<Interval, Double>>of(Interval::lower, Interval::upper)
          .forEach(
              end ->
                  cells.add(
                      interval.map(end).map(Cell::number).orElse(Cell.missing("no interval"))));
    }
  }

  private Column column(Axis axis, String title) {
    return axis.ofWords()
        ? Column.text(key(title), title)
        : axis.scale() == Scale.FRACTION
            ? Column.fraction(key(title), title, 2)
            : Column.significant(key(title), title, axis.unit(), DIGITS);
  }

  /** A key of a column that no other one has. */
  private String key(String title) {
    String plain =
        title.toLowerCase(Locale.ROOT).replaceAll("[^a-z0-9]+", "-").replaceAll("^[-0-9]+|-$", "");
    String base = plain.isEmpty() ? "column" : plain.substring(0, Math.min(50, plain.length()));
    String key = base;
    for (int n = 2; !keys.add(key); n++) {
      key = base + "-" + n;
    }
    return key;
  }
}
