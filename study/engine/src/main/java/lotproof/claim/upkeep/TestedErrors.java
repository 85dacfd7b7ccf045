package lotproof.claim.upkeep;

import java.util.ArrayList;
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
import lotproof.reduce.Direction;
import lotproof.reduce.ErrorCurve;
import lotproof.spread.MeasuredValues;
import lotproof.spread.Role;
import lotproof.spread.TestedKits;
import lotproof.statistics.DistributionQuantiles;
import lotproof.statistics.conformity.Zone;
import lotproof.statistics.summary.Summary;
import lotproof.study.ClaimForm;

/**
 * Errors of the study's kits at the loads that a figure speaks of, and what a production test would
 * have read of them there. Both are in the claim's form: divided by its weight at the load, and
 * turned round where only reading too little counts.
 *
 * <p>The two are the same unless the figure holds for a change of temperature between calibration
 * and use and the test calibrates and reads at one temperature.
 */
final class TestedErrors {
  /** Readings of all runs that spread less are a fixed point of the calibration. */
  private static final double FIXED_POINT_GRAMS = 1e-6;

  private static final Set<Role> UNITS = EnumSet.of(Role.KIT, Role.CELL, Role.BOARD);

  private final List<ErrorCurve> curves;
  private final List<PointLimit> points;
  private final ClaimForm form;
  private final double[][] errors;
  private final double[][] readings;
  private final boolean sameReading;
  private final int disjointKits;

  private TestedErrors(
      List<ErrorCurve> curves,
      List<PointLimit> points,
      ClaimForm form,
      double[][] errors,
      Optional<double[][]> readings,
      int disjointKits) {
    this.curves = List.copyOf(curves);
    this.points = List.copyOf(points);
    this.form = form;
    this.errors = errors;
    this.readings = readings.orElse(errors);
    this.sameReading = readings.isEmpty();
    this.disjointKits = disjointKits;
  }

  /** The kits' curves, one a run. */
  List<ErrorCurve> curves() {
    return curves;
  }

  /** The loads, with mean and spread by source in grams of the form. */
  List<PointLimit> points() {
    return points;
  }

  /** The form of the claim. */
  ClaimForm form() {
    return form;
  }

  /** What an error counts, so that the worst is the largest. */
  double counted(double value) {
    return twoSided() ? Math.abs(value) : value;
  }

  boolean twoSided() {
    return form.side() == ClaimForm.Side.BOTH;
  }

  /** Values up to a limit in size, or on the side that counts. */
  Zone zone(double limit) {
    return twoSided() ? Zone.symmetric(limit) : Zone.atMost(limit);
  }

  /** The standard normal quantile that leaves 1 - p outside the zone. */
  double quantile(double p) {
    return DistributionQuantiles.normal(twoSided() ? 1 - (1 - p) / 2 : p);
  }

  /** A number of the form at a point, in grams of the scale's error. */
  double grams(int point, double value) {
    return sign(form) * weight(point) * value;
  }

  private static double sign(ClaimForm form) {
    return form.side() == ClaimForm.Side.BELOW ? -1 : 1;
  }

  /** The form's weight at a point. */
  double weight(int point) {
    return form.weight(points.get(point).loadKilograms());
  }

  /** Whether the test reads the very errors that the figure speaks of. */
  boolean sameReading() {
    return sameReading;
  }

  /** Error of each curve (row) at each point (column). */
  double[][] grams() {
    return copy(errors);
  }

  /** What the test reads of each curve (row) at each point (column). */
  double[][] readings() {
    return copy(readings);
  }

  private static double[][] copy(double[][] rows) {
    return Arrays.stream(rows).map(double[]::clone).toArray(double[][]::new);
  }

  /** How many of the kits share no unit; of units alone on one partner how many units. */
  int disjointKits() {
    return disjointKits;
  }

  /** Of a figure of plus or minus grams whose errors the test reads. */
  static TestedErrors of(List<ErrorCurve> curves, List<PointLimit> points) {
    return of(curves, points, new ClaimForm.Symmetric(), Optional.empty());
  }

  /**
   * Of any form.
   *
   * @param curves the errors that the figure speaks of
   * @param points its loads, in grams at the load
   * @param atOneTemperature the same runs as a test at one temperature reads them, if that differs
   */
  static TestedErrors of(
      List<ErrorCurve> curves,
      List<PointLimit> points,
      ClaimForm form,
      Optional<List<ErrorCurve>> atOneTemperature) {
    List<Integer> at = places(curves.get(0), points);
    Optional<double[][]> readings =
        atOneTemperature.map(
            own -> {
              Map<String, ErrorCurve> byRun =
                  own.stream().collect(Collectors.toMap(ErrorCurve::run, Function.identity()));
              List<ErrorCurve> same =
                  curves.stream().map(c -> Objects.requireNonNull(byRun.get(c.run()))).toList();
              return values(same, at, form);
            });
    return new TestedErrors(
        curves,
        points.stream().map(point -> scaled(point, form)).toList(),
        form,
        values(curves, at, form),
        readings,
        disjoint(curves).size());
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

  private static List<Integer> places(ErrorCurve curve, List<PointLimit> points) {
    List<ErrorCurve.Point> first = curve.points();
    List<Integer> at = new ArrayList<>();
    for (PointLimit point : points) {
      IntStream.range(0, first.size())
          .filter(
              i ->
                  !at.contains(i)
                      && first.get(i).loadKilograms() == point.loadKilograms()
                      && first.get(i).direction() == point.direction())
          .findFirst()
          .ifPresent(at::add);
    }
    if (at.size() != points.size()) {
      throw new IllegalArgumentException("the curves do not hold all points of the figure");
    }
    return at;
  }

  private static double[][] values(List<ErrorCurve> curves, List<Integer> at, ClaimForm form) {
    return curves.stream()
        .map(
            c ->
                at.stream()
                    .map(i -> c.points().get(i))
                    .mapToDouble(p -> sign(form) * p.errorGrams() / form.weight(p.loadKilograms()))
                    .toArray())
        .toArray(double[][]::new);
  }

  private static PointLimit scaled(PointLimit point, ClaimForm form) {
    double weight = form.weight(point.loadKilograms());
    return new PointLimit(
        point.loadKilograms(),
        point.direction(),
        sign(form) * point.meanGrams() / weight,
        point.totalStandardDeviationGrams() / weight,
        point.withinGrams() / weight,
        point.figureGrams(),
        point.largestGrams() / weight,
        point.contributions().stream()
            .map(c -> new Contribution(c.role(), c.title(), c.standardDeviationGrams() / weight))
            .toList());
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

  double[] column(int point) {
    return Arrays.stream(errors).mapToDouble(row -> row[point]).toArray();
  }

  double[] readingsAt(int point) {
    return Arrays.stream(readings).mapToDouble(row -> row[point]).toArray();
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
}
