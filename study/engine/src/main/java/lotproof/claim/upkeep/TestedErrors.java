package lotproof.claim.upkeep;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.stream.IntStream;
import lotproof.claim.LevelOutcome.Contribution;
import lotproof.claim.LevelOutcome.PointLimit;
import lotproof.reduce.Direction;
import lotproof.reduce.ErrorCurve;
import lotproof.spread.MeasuredValues;
import lotproof.spread.Role;
import lotproof.spread.TestedKits;

/** Errors of the study's kits at the loads that a figure speaks of. */
final class TestedErrors {
  private final List<ErrorCurve> curves;
  private final List<PointLimit> points;
  private final double[][] grams;
  private final int disjointKits;

  private TestedErrors(
      List<ErrorCurve> curves, List<PointLimit> points, double[][] grams, int disjointKits) {
    this.curves = List.copyOf(curves);
    this.points = List.copyOf(points);
    this.grams = grams;
    this.disjointKits = disjointKits;
  }

  /** The kits' curves, one a run. */
  List<ErrorCurve> curves() {
    return curves;
  }

  /** The loads, with mean and spread by source. */
  List<PointLimit> points() {
    return points;
  }

  /** Error of each curve (row) at each point (column), in grams. */
  double[][] grams() {
    return java.util.Arrays.stream(grams).map(double[]::clone).toArray(double[][]::new);
  }

  /** How many of the kits share no unit. */
  int disjointKits() {
    return disjointKits;
  }

  static TestedErrors of(List<ErrorCurve> curves, List<PointLimit> points) {
    List<ErrorCurve.Point> first = curves.get(0).points();
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
    double[][] grams =
        curves.stream()
            .map(c -> at.stream().mapToDouble(i -> c.points().get(i).errorGrams()).toArray())
            .toArray(double[][]::new);
    MeasuredValues labelled =
        new MeasuredValues(
            "error",
            "Error of reading",
            "g",
            curves.stream().map(ErrorCurve::largestGrams).toList(),
            Map.of(
                Role.CELL, curves.stream().map(ErrorCurve::cell).toList(),
                Role.BOARD, curves.stream().map(ErrorCurve::board).toList()));
    return new TestedErrors(curves, points, grams, TestedKits.of(labelled).disjoint().size());
  }

  /** Points that production tests. */
  List<Integer> tested(LimitOptions options) {
    return IntStream.range(0, points.size())
        .filter(
            i ->
                options.testLoadsKilograms().isEmpty()
                    || (options.testLoadsKilograms().contains(points.get(i).loadKilograms())
                        && (options.falling() || points.get(i).direction() == Direction.RISING)))
        .boxed()
        .toList();
  }

  double[] column(int point) {
    return java.util.Arrays.stream(grams).mapToDouble(row -> row[point]).toArray();
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
