package lotproof.report.chart;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import lotproof.report.model.Chart;
import lotproof.report.model.Chart.Axis;
import lotproof.report.model.Chart.Curve;
import lotproof.report.model.Chart.Mark;
import lotproof.report.model.Quantity;
import lotproof.report.text.NumberText;
import lotproof.report.text.OutsideText;

/**
 * What a reader learns who points at a mark of a chart: its place on the axes and its values in
 * words. A chart with very many marks gives those that lie farthest out.
 */
public final class ChartValues {
  /** Most marks of one chart that can be pointed at. */
  static final int MOST = 4000;

  private static final int DIGITS = 5;
  private static final String LINES = "lines";

  private ChartValues() {}

  /**
   * Marks that belong together.
   *
   * @param name what they belong to
   * @param marks in drawing order
   */
  public record Series(String name, List<Point> marks) {
    public Series {
      marks = List.copyOf(marks);
    }
  }

  /**
   * A mark.
   *
   * @param x place on the horizontal axis; its logarithm where the axis is logarithmic
   * @param y place on the vertical axis, likewise
   * @param words its values
   */
  public record Point(double x, double y, String words) {}

  /** All marks of a chart that can be pointed at. */
  public static List<Series> of(Chart chart) {
    if (chart instanceof Chart.ErrorCurves curves) {
      return outermost(curves(curves.curves(), curves.load(), curves.error()));
    }
    if (chart instanceof Chart.RunOrder order) {
      return outermost(
          withLines(
              curves(order.series(), order.order(), order.value()), order.limits(), order.value()));
    }
    if (chart instanceof Chart.ConfidenceCurve curve) {
      return confidence(curve);
    }
    if (chart instanceof Chart.UnitSpread spread) {
      return outermost(withLines(units(spread), spread.limits(), spread.value()));
    }
    if (chart instanceof Chart.QuantilePlot plot) {
      return outermost(quantiles(plot));
    }
    if (chart instanceof Chart.ResidualMap map) {
      return residuals(map);
    }
    if (chart instanceof Chart.VariationShares shares) {
      return shares(shares);
    }
    if (chart instanceof Chart.LevelFigures levels) {
      return levels(levels);
    }
    if (chart instanceof Chart.NoiseStability stability) {
      return stability(stability);
    }
    throw new IllegalArgumentException("unknown chart " + chart);
  }

  /** Both axes are logarithmic, and so are the places. */
  private static List<Series> stability(Chart.NoiseStability chart) {
    Map<Double, Chart.Interval> intervals = new HashMap<>();
    chart.band().forEach(at -> intervals.put(at.x(), at.extent()));
    List<Point> marks = new ArrayList<>();
    for (Chart.Point at : chart.points()) {
      String words = named(chart.time(), at.x()) + ": " + number(chart.deviation(), at.y());
      Chart.Interval interval = intervals.get(at.x());
      marks.add(
          new Point(
              Math.log10(at.x()),
              Math.log10(at.y()),
              interval == null ? words : words + interval(chart.deviation(), interval)));
    }
    return List.of(new Series(OutsideText.clean(chart.deviation().title()), marks));
  }

  private static String interval(Axis axis, Chart.Interval interval) {
    return ", interval " + number(axis, interval.lower()) + " to " + number(axis, interval.upper());
  }

  private static List<Series> curves(List<Curve> curves, Axis across, Axis up) {
    List<Series> all = new ArrayList<>();
    // what stands out comes first for those who go from mark to mark by keys
    curves.stream()
        .sorted(Comparator.comparing((Curve curve) -> !curve.emphasised()))
        .forEach(
            curve ->
                all.add(
                    new Series(
                        OutsideText.clean(curve.name()),
                        curve.points().stream()
                            .map(
                                p ->
                                    new Point(
                                        p.x(),
                                        p.y(),
                                        named(across, p.x()) + ": " + number(up, p.y())))
                            .toList())));
    return all;
  }

  private static List<Series> confidence(Chart.ConfidenceCurve chart) {
    List<Series> all = new ArrayList<>();
    for (Curve curve : chart.curves()) {
      all.add(
          new Series(
              OutsideText.clean(curve.name()),
              curve.points().stream()
                  .map(
                      p ->
                          new Point(
                              p.x(),
                              p.y(),
                              "±"
                                  + number(chart.figure(), p.x())
                                  + ": "
                                  + NumberText.of(Quantity.percent(p.y(), 2))))
                  .toList()));
    }
    return all;
  }

  private static List<Series> units(Chart.UnitSpread chart) {
    List<Series> all = new ArrayList<>();
    for (int lot = 0; lot < chart.lots().size(); lot++) {
      List<Chart.UnitValue> units = chart.lots().get(lot).units();
      List<Point> marks = new ArrayList<>();
      for (int i = 0; i < units.size(); i++) {
        Chart.UnitValue unit = units.get(i);
        marks.add(
            new Point(
                UnitCharts.across(lot, i, units.size()),
                unit.value(),
                OutsideText.clean(unit.serial())
                    + ": "
                    + number(chart.value(), unit.value())
                    + (unit.excluded() ? ", excluded" : "")));
      }
      all.add(new Series("lot " + OutsideText.clean(chart.lots().get(lot).lot()), marks));
    }
    return all;
  }

  private static List<Series> quantiles(Chart.QuantilePlot chart) {
    return List.of(
        new Series(
            "",
            chart.units().stream()
                .map(
                    unit ->
                        new Point(
                            unit.expected(),
                            unit.observed(),
                            OutsideText.clean(unit.serial())
                                + ": "
                                + number(chart.observed(), unit.observed())
                                + ", expected at "
                                + number(chart.expected(), unit.expected())))
                .toList()));
  }

  private static List<Series> residuals(Chart.ResidualMap chart) {
    Map<String, Integer> cells = places(chart.cells());
    Map<String, Integer> boards = places(chart.boards());
    Map<String, List<Point>> byBoard = new LinkedHashMap<>();
    chart.boards().forEach(board -> byBoard.put(board, new ArrayList<>()));
    chart.pairs().stream()
        .sorted(
            Comparator.comparing((Chart.PairResidual pair) -> cells.getOrDefault(pair.cell(), 0)))
        .limit(MOST)
        .forEach(
            pair ->
                byBoard
                    .computeIfAbsent(pair.board(), board -> new ArrayList<>())
                    .add(
                        new Point(
                            cells.getOrDefault(pair.cell(), 0),
                            boards.getOrDefault(pair.board(), 0),
                            OutsideText.clean(pair.cell())
                                + ": "
                                + number(chart.residual(), pair.residual()))));
    List<Series> all = new ArrayList<>();
    byBoard.forEach(
        (board, marks) -> {
          if (!marks.isEmpty()) {
            all.add(new Series("board " + OutsideText.clean(board), marks));
          }
        });
    return all;
  }

  private static List<Series> shares(Chart.VariationShares chart) {
    List<Point> marks = new ArrayList<>();
    for (int row = 0; row < chart.shares().size(); row++) {
      Chart.Share share = chart.shares().get(row);
      String interval = share.interval().map(i -> interval(chart.value(), i)).orElse("");
      marks.add(
          new Point(
              share.value(),
              row,
              OutsideText.clean(share.component())
                  + ": "
                  + number(chart.value(), share.value())
                  + interval));
    }
    return List.of(new Series("", marks));
  }

  private static List<Series> levels(Chart.LevelFigures chart) {
    List<Series> all = new ArrayList<>();
    for (int row = 0; row < chart.levels().size(); row++) {
      Chart.LevelFigure level = chart.levels().get(row);
      List<Point> marks = new ArrayList<>();
      int at = row;
      level
          .safest()
          .ifPresent(v -> marks.add(new Point(v, at, "safest figure ±" + figure(chart, v))));
      level
          .withoutExclusions()
          .ifPresent(
              v -> marks.add(new Point(v, at, "with every unit put back ±" + figure(chart, v))));
      level.wanted().ifPresent(v -> marks.add(new Point(v, at, "wanted ±" + figure(chart, v))));
      if (!marks.isEmpty()) {
        all.add(new Series(OutsideText.clean(level.level()), marks));
      }
    }
    return all;
  }

  private static String figure(Chart.LevelFigures chart, double value) {
    return NumberText.of(new Quantity(value, chart.figure().unit(), chart.style()));
  }

  private static List<Series> withLines(List<Series> series, List<Mark> lines, Axis axis) {
    if (lines.isEmpty()) {
      return series;
    }
    double middle =
        series.stream().flatMap(s -> s.marks().stream()).mapToDouble(Point::x).average().orElse(0);
    List<Series> all = new ArrayList<>(series);
    all.add(
        new Series(
            LINES,
            lines.stream()
                .map(
                    mark ->
                        new Point(
                            middle,
                            mark.value(),
                            OutsideText.clean(mark.label()) + ": " + number(axis, mark.value())))
                .toList()));
    return all;
  }

  /** The marks that lie farthest from the middle, where there are too many. */
  private static List<Series> outermost(List<Series> series) {
    List<Point> marks = series.stream().flatMap(s -> s.marks().stream()).toList();
    if (marks.size() <= MOST) {
      return series;
    }
    double[] sorted = marks.stream().mapToDouble(Point::y).sorted().toArray();
    double middle = sorted[sorted.length / 2];
    double[] far = marks.stream().mapToDouble(p -> Math.abs(p.y() - middle)).sorted().toArray();
    double least = far[far.length - MOST];
    List<Series> kept = new ArrayList<>();
    int room = MOST;
    for (Series one : series) {
      List<Point> some =
          one.marks().stream().filter(p -> Math.abs(p.y() - middle) >= least).limit(room).toList();
      room -= some.size();
      if (!some.isEmpty()) {
        kept.add(new Series(one.name(), some));
      }
    }
    return kept;
  }

  private static Map<String, Integer> places(List<String> names) {
    Map<String, Integer> places = new HashMap<>();
    names.forEach(name -> places.put(name, places.size()));
    return places;
  }

  private static String named(Axis axis, double value) {
    return axis.unit().isEmpty()
        ? OutsideText.clean(axis.title()) + " " + number(axis, value)
        : number(axis, value);
  }

  private static String number(Axis axis, double value) {
    boolean whole = value == Math.rint(value) && Math.abs(value) < 1e9;
    return NumberText.of(
        whole
            ? Quantity.of(value, axis.unit(), 0)
            : Quantity.significant(value, axis.unit(), DIGITS));
  }
}
