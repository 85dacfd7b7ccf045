package lotproof.claim.upkeep;

import java.math.BigDecimal;
import java.math.MathContext;
import java.math.RoundingMode;
import java.util.Arrays;
import java.util.EnumSet;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.Set;
import java.util.function.Function;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import lotproof.claim.LevelOutcome.Contribution;
import lotproof.claim.LevelOutcome.PointLimit;
import lotproof.model.MeasuredValues;
import lotproof.model.Role;
import lotproof.reduce.Direction;
import lotproof.reduce.ErrorCurve;
import lotproof.spread.TestedKits;
import lotproof.statistics.DistributionQuantiles;
import lotproof.statistics.conformity.Zone;
import lotproof.statistics.summary.Summary;
import lotproof.study.ClaimForm;

/**
 * Errors of the study's kits at the loads of a figure (one row a curve, one column a load), and
 * what a production test would have read of them there, both in grams of the claim's form. The two
 * are the same unless the figure holds for a change of temperature between calibration and use and
 * the test calibrates and reads at one temperature.
 */
final class ProductionReadings {
  /** Readings of all runs that spread less are a fixed point of the calibration. */
  private static final double FIXED_POINT_GRAMS = 1e-6;

  private static final Set<Role> UNITS = EnumSet.of(Role.KIT, Role.CELL, Role.BOARD);

  private final List<ErrorCurve> curves;
  private final List<PointLimit> points;
  private final ClaimForm form;
  private final double[][] errors;
  private final double[][] readings;
  private final boolean sameReading;

  private ProductionReadings(
      List<ErrorCurve> curves,
      List<PointLimit> points,
      ClaimForm form,
      Optional<List<ErrorCurve>> atOneTemperature) {
    this.curves = List.copyOf(curves);
    this.points = points.stream().map(point -> inForm(point, form)).toList();
    this.form = form;
    this.errors = values(curves, points, form);
    this.readings = atOneTemperature.map(own -> values(own, points, form)).orElse(errors);
    this.sameReading = atOneTemperature.isEmpty();
  }

  /**
   * The errors and readings of some runs.
   *
   * @param curves the errors that the figure speaks of
   * @param points its loads, in grams at the load
   * @param atOneTemperature the same runs as a test at one temperature reads them, if that differs
   */
  static ProductionReadings of(
      List<ErrorCurve> curves,
      List<PointLimit> points,
      ClaimForm form,
      Optional<List<ErrorCurve>> atOneTemperature) {
    Optional<List<ErrorCurve>> sameRuns =
        atOneTemperature.map(
            own -> {
              Map<String, ErrorCurve> byRun =
                  own.stream().collect(Collectors.toMap(ErrorCurve::run, Function.identity()));
              return curves.stream().map(c -> Objects.requireNonNull(byRun.get(c.run()))).toList();
            });
    return new ProductionReadings(curves, points, form, sameRuns);
  }

  private static double[][] values(
      List<ErrorCurve> curves, List<PointLimit> points, ClaimForm form) {
    List<ErrorCurve.Point> steps = curves.get(0).points();
    int[] at = new int[points.size()];
    for (int i = 0; i < at.length; i++) {
      PointLimit point = points.get(i);
      int[] taken = Arrays.copyOf(at, i);
      at[i] =
          IntStream.range(0, steps.size())
              .filter(step -> Arrays.stream(taken).noneMatch(t -> t == step))
              .filter(step -> steps.get(step).loadKilograms() == point.loadKilograms())
              .filter(step -> steps.get(step).direction() == point.direction())
              .findFirst()
              .orElseThrow(
                  () ->
                      new IllegalArgumentException(
                          "the curves do not hold all points of the figure"));
    }
    return curves.stream()
        .map(
            c ->
                Arrays.stream(at)
                    .mapToObj(i -> c.points().get(i))
                    .mapToDouble(p -> form.inForm(p.errorGrams(), p.loadKilograms()))
                    .toArray())
        .toArray(double[][]::new);
  }

  private static PointLimit inForm(PointLimit point, ClaimForm form) {
    double weight = form.weight(point.loadKilograms());
    return new PointLimit(
        point.loadKilograms(),
        point.direction(),
        form.sign() * point.meanGrams() / weight,
        point.totalStandardDeviationGrams() / weight,
        point.withinGrams() / weight,
        point.figureGrams(),
        point.largestGrams() / weight,
        point.contributions().stream()
            .map(c -> new Contribution(c.role(), c.title(), c.standardDeviationGrams() / weight))
            .toList());
  }

  List<ErrorCurve> curves() {
    return curves;
  }

  /** The loads, with mean and spread by source in grams of the form. */
  List<PointLimit> points() {
    return points;
  }

  ClaimForm form() {
    return form;
  }

  /** Values up to a limit in size, or on the side that counts. */
  Zone zone(double limit) {
    return form.twoSided() ? Zone.symmetric(limit) : Zone.atMost(limit);
  }

  /** The standard normal quantile that leaves 1 - p outside the zone. */
  double quantile(double p) {
    return DistributionQuantiles.normal(form.twoSided() ? 1 - (1 - p) / 2 : p);
  }

  /** The form's weight at a point. */
  double weight(int point) {
    return form.weight(points.get(point).loadKilograms());
  }

  /** Whether the production test measures the claimed error directly. */
  boolean sameReading() {
    return sameReading;
  }

  /** Error of each curve (row) at each point (column). */
  double[][] errors() {
    return Arrays.stream(errors).map(double[]::clone).toArray(double[][]::new);
  }

  /** Errors of all curves at a point. */
  double[] errorsAt(int point) {
    return Arrays.stream(errors).mapToDouble(row -> row[point]).toArray();
  }

  /** What the test reads of each curve (row) at each point (column). */
  double[][] readings() {
    return Arrays.stream(readings).map(double[]::clone).toArray(double[][]::new);
  }

  /** What the test reads of all curves at a point. */
  double[] readingsAt(int point) {
    return Arrays.stream(readings).mapToDouble(row -> row[point]).toArray();
  }

  /** How many of the kits share no unit; of units alone on one partner how many units. */
  int disjointKits() {
    return disjoint(curves).size();
  }

  /** Which of the curves are of kits that share no unit; a partner of all of them is no unit. */
  static List<Integer> disjoint(List<ErrorCurve> curves) {
    Map<Role, List<String>> units =
        Map.of(
            Role.CELL,
            curves.stream().map(ErrorCurve::cell).toList(),
            Role.BOARD,
            curves.stream().map(ErrorCurve::board).toList());
    List<Double> largest = curves.stream().map(ErrorCurve::largestGrams).toList();
    return TestedKits.of(
            new MeasuredValues("error", "Error of reading", "g", largest, units)
                .withoutSharedPartner())
        .disjoint();
  }

  /** Points that production tests. */
  List<Integer> tested(LimitOptions options) {
    return IntStream.range(0, points.size())
        .filter(
            i ->
                (sameReading || Summary.sd(readingsAt(i)) > FIXED_POINT_GRAMS)
                    && (options.testLoadsKilograms().isEmpty()
                        || (options.testLoadsKilograms().contains(points.get(i).loadKilograms())
                            && (options.falling()
                                || points.get(i).direction() == Direction.RISING))))
        .boxed()
        .toList();
  }

  /**
   * Standard deviation between runs of one kit at a point; 0 where the residual holds the spread of
   * units, because none was measured twice.
   */
  double repeat(int point) {
    boolean apart =
        points.get(point).contributions().stream().anyMatch(c -> UNITS.contains(c.role()));
    return apart ? sd(point, Role.RESIDUAL) : 0;
  }

  /** Standard deviation of some sources together at a point. */
  double sd(int point, Role... roles) {
    List<Role> wanted = List.of(roles);
    return Math.sqrt(
        points.get(point).contributions().stream()
            .filter(c -> wanted.contains(c.role()))
            .mapToDouble(Contribution::standardDeviationGrams)
            .map(sd -> sd * sd)
            .sum());
  }

  /**
   * Standard uncertainty of one reading of the tester at a point. A study without repeats has no
   * repeatability of its own; a tenth of the total spread stands for it.
   */
  double testerUncertainty(LimitOptions options, int point) {
    if (options.testerUncertaintyGrams().isPresent()) {
      return options.testerUncertaintyGrams().getAsDouble() / weight(point);
    }
    double repeat = repeat(point);
    double total = points.get(point).totalStandardDeviationGrams();
    return Math.max(1e-6, repeat > 0 ? repeat : total / 10);
  }

  /** Three significant digits, never above the value. */
  static double roundedInward(double grams) {
    // the shortest decimal, so that 44.4 is not taken for 44.39999
    return BigDecimal.valueOf(grams).round(new MathContext(3, RoundingMode.DOWN)).doubleValue();
  }
}
