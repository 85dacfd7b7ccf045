package lotproof.report.model;

import java.util.ArrayList;
import java.util.DoubleSummaryStatistics;
import java.util.List;
import java.util.Optional;
import java.util.function.Function;
import lotproof.report.model.Chart.Axis;
import lotproof.report.model.Chart.Mark;
import lotproof.report.model.Chart.Point;
import lotproof.report.model.Chart.Scale;
import lotproof.report.model.Chart.Series;
import lotproof.report.model.Table.Column;

/**
 * The numbers behind a chart as a table: for those who cannot see the chart, for the workbook's own
 * charts and for anyone who wants to draw it again. A chart in rows gives a row for each word and a
 * column for each series; any other chart a row for each point, series by series, and then its
 * marks.
 */
public final class ChartTable {
  private static final int DIGITS = 6;

  private final Chart chart;

  private ChartTable(Chart chart) {
    this.chart = chart;
  }

  /** All numbers of a chart, in the order they are drawn. */
  public static Table of(Chart chart) {
    ChartTable table = new ChartTable(chart);
    return chart.inRows() ? table.words() : table.points();
  }

  private <T> TableBuilder<T> table() {
    return new TableBuilder<T>(chart.tableId(), "Numbers behind: " + chart.caption().question())
        .evidence();
  }

  private Table words() {
    List<String> words = chart.up().words();
    TableBuilder<Integer> table = table();
    add(table, chart.up(), chart.up().title(), words::get, "");
    for (Series series : chart.series()) {
      add(table, chart.across(), series.name(), row -> at(series, row).map(Point::x), "none");
    }
    List<Integer> rows = new ArrayList<>();
    for (int row = 0; row < words.size(); row++) {
      rows.add(row);
    }
    return table.of(rows);
  }

  private static Optional<Point> at(Series series, int row) {
    return series.points().stream().filter(p -> Math.rint(p.y()) == row).findFirst();
  }

  private record Line(String series, String label, Cell x, Cell y) {}

  private Table points() {
    List<Line> lines = new ArrayList<>();
    for (Series series : chart.series()) {
      for (Point point : series.points()) {
        Cell x =
            chart.across().ofWords()
                ? Cell.text(chart.across().wordAt(point.x()))
                : Cell.number(point.x());
        lines.add(new Line(series.name(), point.label(), x, Cell.number(point.y())));
      }
    }
    chart.marks().forEach(mark -> addMark(lines, mark));
    TableBuilder<Line> table = table();
    table.add("Series", Format.TEXT, Line::series);
    if (chart.points().stream().anyMatch(point -> !point.label().isEmpty())) {
      table.add("Label", Format.SERIAL, Line::label);
    }
    add(table, chart.across(), chart.across().title(), Line::x, "");
    add(table, chart.up(), chart.up().title(), Line::y, "");
    return table.of(lines);
  }

  /** Two points, so that a spreadsheet can draw the line; one value where there is no extent. */
  private void addMark(List<Line> lines, Mark mark) {
    DoubleSummaryStatistics extent =
        chart.points().stream()
            .mapToDouble(mark.upright() ? Point::y : Point::x)
            .summaryStatistics();
    boolean drawn = extent.getCount() > 0 && !chart.across().ofWords();
    Cell value = Cell.number(mark.value());
    List<Cell> ends =
        drawn
            ? List.of(Cell.number(extent.getMin()), Cell.number(extent.getMax()))
            : List.of(Cell.missing("a line"));
    for (Cell end : ends) {
      Cell x = mark.upright() ? value : end;
      lines.add(new Line(mark.label(), "", x, mark.upright() ? end : value));
    }
  }

  private <T> void add(
      TableBuilder<T> table, Axis axis, String title, Function<T, ?> value, String missing) {
    Format numbers =
        axis.scale() == Scale.FRACTION ? Format.percent(2) : Format.significant(DIGITS);
    String unit = axis.scale() == Scale.FRACTION ? "" : axis.unit();
    table
        .missing(missing)
        .add(
            axis.ofWords()
                ? new Column(table.freeKey(title), title, "", Format.TEXT)
                : new Column(table.freeKey(title), title, unit, numbers),
            value);
  }
}
