package lotproof.report.model;

import java.util.ArrayList;
import java.util.DoubleSummaryStatistics;
import java.util.List;
import java.util.OptionalDouble;
import lotproof.report.model.Chart.ConfidenceCurve;
import lotproof.report.model.Chart.Curve;
import lotproof.report.model.Chart.ErrorCurves;
import lotproof.report.model.Chart.LevelFigures;
import lotproof.report.model.Chart.Mark;
import lotproof.report.model.Chart.Point;
import lotproof.report.model.Chart.QuantilePlot;
import lotproof.report.model.Chart.ResidualMap;
import lotproof.report.model.Chart.RunOrder;
import lotproof.report.model.Chart.UnitSpread;
import lotproof.report.model.Chart.VariationShares;
import lotproof.report.model.Table.Column;
import lotproof.report.model.Table.Role;
import lotproof.report.model.Table.Row;

/**
 * The numbers behind a chart as a table: for those who cannot see the chart, for the workbook's own
 * charts and for anyone who wants to draw it again. Its id is the chart's with {@code -data}.
 */
public final class ChartTable {
  private static final int DIGITS = 6;

  /** Name of the lower edge of a band, which stands behind all curves. */
  public static final String BAND_LOWER = "band, lower";

  /** Name of its upper edge, behind the lower one. */
  public static final String BAND_UPPER = "band, upper";

  private ChartTable() {}

  /** All numbers of a chart, in the order they are drawn. */
  public static Table of(Chart chart) {
    if (chart instanceof ErrorCurves curves) {
      return errorCurves(curves);
    }
    if (chart instanceof UnitSpread spread) {
      return unitSpread(spread);
    }
    if (chart instanceof VariationShares shares) {
      return variationShares(shares);
    }
    if (chart instanceof LevelFigures levels) {
      return levelFigures(levels);
    }
    if (chart instanceof RunOrder order) {
      return runOrder(order);
    }
    if (chart instanceof QuantilePlot plot) {
      return quantiles(plot);
    }
    if (chart instanceof ResidualMap map) {
      return residuals(map);
    }
    if (chart instanceof ConfidenceCurve confidence) {
      return confidence(confidence);
    }
    if (chart instanceof Chart.NoiseStability stability) {
      return noiseStability(stability);
    }
    throw new IllegalArgumentException("unknown chart " + chart);
  }

  /** Id of the table of numbers behind a chart. */
  public static String idOf(Chart chart) {
    return chart.caption().id() + "-data";
  }

  private static Table noiseStability(Chart.NoiseStability chart) {
    List<Row> rows = new ArrayList<>();
    chart.points().forEach(p -> rows.add(point("deviation", p.x(), p.y())));
    chart.band().forEach(b -> rows.add(point("interval, lower", b.x(), b.extent().lower())));
    chart.band().forEach(b -> rows.add(point("interval, upper", b.x(), b.extent().upper())));
    return table(
        chart,
        List.of(
            Column.text("curve", "Curve"),
            number("time", chart.time()),
            number("deviation", chart.deviation())),
        rows);
  }

  private static Table errorCurves(ErrorCurves chart) {
    List<Row> rows = new ArrayList<>();
    addCurves(rows, chart.curves());
    chart.band().forEach(b -> rows.add(point(BAND_LOWER, b.x(), b.extent().lower())));
    chart.band().forEach(b -> rows.add(point(BAND_UPPER, b.x(), b.extent().upper())));
    return table(
        chart,
        List.of(
            Column.text("curve", "Curve"),
            number("load", chart.load()),
            number("error", chart.error())),
        rows);
  }

  private static Table unitSpread(UnitSpread chart) {
    List<Row> rows = new ArrayList<>();
    for (Chart.LotValues lot : chart.lots()) {
      for (Chart.UnitValue unit : lot.units()) {
        rows.add(
            Row.of(
                Cell.text(lot.lot()),
                Cell.text(unit.serial()),
                Cell.number(unit.value()),
                Cell.text(unit.excluded() ? "excluded" : "counts")));
      }
    }
    for (Mark mark : chart.limits()) {
      rows.add(
          Row.of(
              Cell.text("line: " + mark.label()),
              Cell.missing("a line"),
              Cell.number(mark.value()),
              Cell.missing("a line")));
    }
    return table(
        chart,
        List.of(
            Column.text("lot", "Lot"),
            Column.serial("serial", "Serial"),
            number("value", chart.value()),
            Column.text("state", "State")),
        rows);
  }

  private static Table variationShares(VariationShares chart) {
    List<Row> rows =
        chart.shares().stream()
            .map(
                share ->
                    Row.of(
                        Cell.text(share.component()),
                        Cell.number(share.value()),
                        share
                            .interval()
                            .map(i -> Cell.number(i.lower()))
                            .orElse(Cell.missing("no interval")),
                        share
                            .interval()
                            .map(i -> Cell.number(i.upper()))
                            .orElse(Cell.missing("no interval")),
                        Cell.text(share.atBoundary() ? "at the boundary" : "estimated")))
            .toList();
    Chart.Axis axis = chart.value();
    return table(
        chart,
        List.of(
            Column.text("component", "Component"),
            number("value", axis),
            Column.significant("lower", "Lower end", axis.unit(), DIGITS),
            Column.significant("upper", "Upper end", axis.unit(), DIGITS),
            Column.text("state", "State")),
        rows);
  }

  private static Table levelFigures(LevelFigures chart) {
    List<Row> rows =
        chart.levels().stream()
            .map(
                level ->
                    Row.of(
                        Cell.text(level.level()),
                        optional(level.safest(), "not supported"),
                        optional(level.withoutExclusions(), "nothing excluded"),
                        optional(level.wanted(), "none wanted")))
            .toList();
    String unit = chart.figure().unit();
    return table(
        chart,
        List.of(
            Column.text("level", "Calibration level"),
            Column.significant("safest", "Safest figure", unit, DIGITS),
            Column.significant("without-exclusions", "With every unit put back", unit, DIGITS),
            Column.significant("wanted", "Wanted", unit, DIGITS)),
        rows);
  }

  private static Table runOrder(RunOrder chart) {
    List<Row> rows = new ArrayList<>();
    addCurves(rows, chart.series());
    DoubleSummaryStatistics orders =
        chart.series().stream()
            .flatMap(series -> series.points().stream())
            .mapToDouble(Chart.Point::x)
            .summaryStatistics();
    for (Mark mark : chart.limits()) {
      if (orders.getCount() > 0) {
        // a line is two points, so that a spreadsheet can draw it
        rows.add(point(mark.label(), orders.getMin(), mark.value()));
        rows.add(point(mark.label(), orders.getMax(), mark.value()));
      } else {
        rows.add(line(mark));
      }
    }
    return table(
        chart,
        List.of(
            Column.text("series", "Series"),
            number("order", chart.order()),
            number("value", chart.value())),
        rows);
  }

  private static Table quantiles(QuantilePlot chart) {
    List<Row> rows = new ArrayList<>();
    chart
        .units()
        .forEach(
            unit ->
                rows.add(
                    Row.of(
                        Cell.text(unit.serial()),
                        Cell.number(unit.expected()),
                        Cell.number(unit.observed()),
                        chart
                            .line()
                            .map(l -> Cell.number(l.intercept() + l.slope() * unit.expected()))
                            .orElse(Cell.missing("no line")))));
    return table(
        chart,
        List.of(
            Column.serial("serial", "Serial"),
            number("expected", chart.expected()),
            number("observed", chart.observed()),
            Column.significant("line", "On the line", chart.observed().unit(), DIGITS)),
        rows);
  }

  private static Table residuals(ResidualMap chart) {
    List<Row> rows =
        chart.pairs().stream()
            .map(
                pair ->
                    Row.of(
                        Cell.text(pair.cell()),
                        Cell.text(pair.board()),
                        Cell.number(pair.residual())))
            .toList();
    return table(
        chart,
        List.of(
            Column.serial("cell", "Cell"),
            Column.serial("board", "Board"),
            number("residual", chart.residual())),
        rows);
  }

  private static Table confidence(ConfidenceCurve chart) {
    List<Row> rows = new ArrayList<>();
    addCurves(rows, chart.curves());
    chart
        .figures()
        .forEach(
            mark ->
                rows.add(
                    Row.of(
                        Cell.text("line: " + mark.label()),
                        Cell.number(mark.value()),
                        Cell.missing("a line"))));
    chart.wanted().ifPresent(mark -> rows.add(line(mark)));
    return table(
        chart,
        List.of(
            Column.text("curve", "Curve"),
            number("figure", chart.figure()),
            Column.fraction("confidence", chart.confidence().title(), 2)),
        rows);
  }

  private static void addCurves(List<Row> rows, List<Curve> curves) {
    for (Curve curve : curves) {
      for (Point point : curve.points()) {
        rows.add(point(curve.name(), point.x(), point.y()));
      }
    }
  }

  private static Row point(String name, double x, double y) {
    return Row.of(Cell.text(name), Cell.number(x), Cell.number(y));
  }

  private static Row line(Mark mark) {
    return Row.of(
        Cell.text("line: " + mark.label()), Cell.missing("a line"), Cell.number(mark.value()));
  }

  private static Cell optional(OptionalDouble value, String reason) {
    return value.isPresent() ? Cell.number(value.getAsDouble()) : Cell.missing(reason);
  }

  private static Column number(String key, Chart.Axis axis) {
    return Column.significant(key, axis.title(), axis.unit(), DIGITS);
  }

  private static Table table(Chart chart, List<Column> columns, List<Row> rows) {
    return new Table(
        idOf(chart),
        "Numbers behind: " + chart.caption().question(),
        Role.EVIDENCE,
        columns,
        rows,
        Prose.none());
  }
}
