package lotproof.claim.upkeep;

import java.math.BigDecimal;
import java.math.MathContext;
import java.math.RoundingMode;
import java.util.Collections;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import lotproof.claim.LevelOutcome.Contribution;
import lotproof.claim.LevelOutcome.PointLimit;
import lotproof.claim.evidence.ErrorsInClaimForm;
import lotproof.model.MeasuredValues;
import lotproof.model.Role;
import lotproof.reduce.ErrorCurve;
import lotproof.spread.TestedKits;
import lotproof.statistics.DistributionQuantiles;
import lotproof.statistics.conformity.Zone;
import lotproof.study.ClaimForm;

/**
 * Errors of the study's kits at the loads of a figure, and what a production test would have read
 * of them there, both in grams of the claim's form. The two are the same unless the figure holds
 * for a change of temperature between calibration and use and the test calibrates and reads at one
 * temperature.
 *
 * @param errors what the figure speaks of
 * @param atOneTemperature what the test reads of the same runs, where that differs
 * @param points the loads of the figure, in grams at the load
 * @param repeatability how well it is known what a repeat changes
 */
record ProductionReadings(
    ErrorsInClaimForm errors,
    Optional<ErrorsInClaimForm> atOneTemperature,
    List<PointLimit> points,
    Repeatability repeatability) {

  /**
   * The errors and readings of some runs.
   *
   * @param atOneTemperature curves of the same runs, and perhaps others, as a test at one
   *     temperature reads them, if that differs
   */
  static ProductionReadings of(
      ErrorsInClaimForm errors,
      List<PointLimit> points,
      Optional<List<ErrorCurve>> atOneTemperature) {
    return new ProductionReadings(
        errors,
        atOneTemperature.map(
            own -> {
              Map<String, ErrorCurve> byRun = new HashMap<>();
              own.forEach(curve -> byRun.put(curve.run(), curve));
              return new ErrorsInClaimForm(
                  errors.curves().stream()
                      .map(c -> Objects.requireNonNull(byRun.get(c.run())))
                      .toList(),
                  errors.form(),
                  errors.points());
            }),
        points,
        Repeatability.of(errors.curves(), roles(points)));
  }

  /** What an error is divided by in the claim's form. */
  double weight(int point) {
    return errors.weight(point);
  }

  ClaimForm form() {
    return errors.form();
  }

  /** Values up to a limit in size, or on the side that counts. */
  Zone zone(double limit) {
    return form().twoSided() ? Zone.symmetric(limit) : Zone.atMost(limit);
  }

  /** The standard normal quantile that leaves 1 - p outside the zone. */
  double quantile(double p) {
    return DistributionQuantiles.normal(form().twoSided() ? 1 - (1 - p) / 2 : p);
  }

  /** Whether the production test measures the claimed error directly. */
  boolean sameReading() {
    return atOneTemperature.isEmpty();
  }

  /** What the test reads. */
  ErrorsInClaimForm readings() {
    return atOneTemperature.orElse(errors);
  }

  /** How many of the kits share no unit; of units alone on one partner how many units. */
  int disjointKits() {
    return disjoint(errors.curves()).size();
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

  /** Mean error of all kits at a point. */
  double mean(int point) {
    return form().sign() * points.get(point).meanGrams() / errors.weight(point);
  }

  /** Standard deviation of a future kit's error at a point. */
  double total(int point) {
    return points.get(point).totalStandardDeviationGrams() / errors.weight(point);
  }

  /**
   * Standard deviation between runs of one kit at a point; 0 where the residual holds the spread of
   * units, because none was measured twice.
   */
  double repeat(int point) {
    boolean apart = !Collections.disjoint(roles(List.of(points.get(point))), Repeatability.UNITS);
    return apart ? sd(point, Role.RESIDUAL) : 0;
  }

  private static Set<Role> roles(List<PointLimit> points) {
    return points.stream()
        .flatMap(point -> point.contributions().stream())
        .map(Contribution::role)
        .collect(Collectors.toSet());
  }

  /** Standard deviation of some sources together at a point. */
  double sd(int point, Role... roles) {
    List<Role> wanted = List.of(roles);
    return Math.sqrt(
            points.get(point).contributions().stream()
                .filter(c -> wanted.contains(c.role()))
                .mapToDouble(Contribution::standardDeviationGrams)
                .map(sd -> sd * sd)
                .sum())
        / errors.weight(point);
  }

  /** Three significant digits, never above the value. */
  static double roundedInward(double grams) {
    // the shortest decimal, so that 44.4 is not taken for 44.39999
    return BigDecimal.valueOf(grams).round(new MathContext(3, RoundingMode.DOWN)).doubleValue();
  }
}
