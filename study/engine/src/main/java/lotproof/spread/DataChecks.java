package lotproof.spread;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.stream.IntStream;
import lotproof.model.FactorPlan;
import lotproof.model.MeasuredValues;
import lotproof.model.Role;
import lotproof.statistics.components.BestLinearPredictors;
import lotproof.statistics.components.BestLinearPredictors.FactorEffects;
import lotproof.statistics.components.ComponentsFit;
import lotproof.statistics.outliers.Cochran;
import lotproof.statistics.sequence.RunsTest;
import lotproof.statistics.sequence.Trend;
import lotproof.statistics.summary.Summary;

/** All checks on the values of one characteristic. */
final class DataChecks {
  private static final int FEWEST_IN_ORDER = 10;
  private static final int FEWEST_REPEATED = 3;

  private final MeasuredValues values;

  private DataChecks(MeasuredValues values) {
    this.values = values;
  }

  /**
   * The checks, units first, then repeats, then the order of runs.
   *
   * @param fit the fitted model, which takes partners out of a unit's effect; without it nothing is
   *     said on units
   */
  static List<DataCheck> of(MeasuredValues values, FactorPlan plan, Optional<ComponentsFit> fit) {
    DataChecks checks = new DataChecks(values);
    List<DataCheck> all = new ArrayList<>();
    fit.ifPresent(f -> all.addAll(checks.units(plan, f)));
    all.addAll(checks.repeats());
    all.addAll(checks.order());
    return List.copyOf(all);
  }

  private List<DataCheck> units(FactorPlan plan, ComponentsFit fit) {
    List<DataCheck> checks = new ArrayList<>();
    for (FactorEffects effects : BestLinearPredictors.predict(fit)) {
      for (Role role : List.of(Role.CELL, Role.BOARD, Role.KIT)) {
        if (effects.factor().equals(role.key())) {
          checks.addAll(unitsOf(role, effects.standardized()));
        }
      }
    }
    boolean unitsAreValues =
        plan.roles().stream().noneMatch(r -> r == Role.CELL || r == Role.BOARD || r == Role.KIT);
    if (unitsAreValues) {
      checks.addAll(new UnitChecks("value", rowNames(), values.array()).farOut());
    }
    return checks;
  }

  private List<DataCheck> unitsOf(Role role, double[] effects) {
    List<String> labels = FactorPlan.labels(values, role);
    List<String> serials = labels.stream().distinct().toList();
    UnitChecks units = new UnitChecks(role.key(), serials, effects);
    List<DataCheck> checks = new ArrayList<>(units.farOut());
    Role lot = role == Role.CELL ? Role.CELL_LOT : Role.BOARD_LOT;
    Optional<List<String>> lots = role == Role.KIT ? Optional.empty() : values.labelsOf(lot);
    lots.ifPresent(
        names -> {
          List<String> lotOf =
              serials.stream().map(serial -> names.get(labels.indexOf(serial))).toList();
          checks.addAll(units.lots(lot.key(), lotOf));
        });
    return checks;
  }

  private List<String> rowNames() {
    return IntStream.rangeClosed(1, values.values().size()).mapToObj(i -> "value " + i).toList();
  }

  /** Cochran's test on the variances of the kits that were measured equally often. */
  private List<DataCheck> repeats() {
    Map<String, List<Double>> repeated = new LinkedHashMap<>();
    KitRepeats.valuesByKit(values)
        .forEach(
            (kit, list) -> {
              if (list.size() >= 2) {
                repeated.put(kit, list);
              }
            });
    if (repeated.isEmpty()) {
      return List.of();
    }
    int times =
        repeated.values().stream()
            .mapToInt(List::size)
            .boxed()
            .max(
                java.util.Comparator.comparingLong(
                    size -> repeated.values().stream().filter(l -> l.size() == size).count()))
            .orElseThrow();
    List<String> kits = new ArrayList<>();
    List<Double> variances = new ArrayList<>();
    repeated.forEach(
        (kit, list) -> {
          if (list.size() == times) {
            double sd = Summary.sd(list.stream().mapToDouble(v -> v).toArray());
            kits.add(kit);
            variances.add(sd * sd);
          }
        });
    String title = "One kit repeats badly";
    String about = kits.size() + " kits measured " + times + " times";
    if (kits.size() < FEWEST_REPEATED) {
      return List.of(
          new DataCheck.NotDone(
              "cochran", title, about, FEWEST_REPEATED + " equally repeated kits are needed."));
    }
    double[] each = variances.stream().mapToDouble(v -> v).toArray();
    return Cochran.test(each, times, DataCheck.NOTABLE_LEVEL)
        .<DataCheck>map(
            test ->
                new DataCheck.Done(
                    "cochran",
                    title,
                    about,
                    List.of(kits.get(test.index())),
                    test.statistic(),
                    OptionalDouble.of(test.criticalValue()),
                    OptionalDouble.of(test.pValue()),
                    test.extreme(),
                    test.extreme()
                        ? "Repeats of this kit differ more than those of the others; look at its"
                            + " joint, cable and log."
                        : "Repeats of all kits differ alike."))
        .stream()
        .toList();
  }

  private List<DataCheck> order() {
    double[] y = values.array();
    if (y.length < FEWEST_IN_ORDER || Arrays.stream(y).distinct().count() < 3) {
      return List.of();
    }
    String about = y.length + " values in their order";
    List<DataCheck> checks = new ArrayList<>();
    RunsTest.aboutMedian(y, RunsTest.Ties.DROPPED)
        .ifPresent(
            test -> {
              boolean notable = test.pValue() < DataCheck.NOTABLE_LEVEL;
              checks.add(
                  new DataCheck.Done(
                      "runs",
                      "Values follow one another",
                      about,
                      List.of(),
                      test.statistic(),
                      OptionalDouble.empty(),
                      OptionalDouble.of(test.pValue()),
                      notable,
                      notable
                          ? "High and low values do not alternate as chance would have them: the"
                              + " order was not random, or the bench wandered."
                          : "High and low values alternate as chance would have them."));
            });
    if (y.length >= 5) {
      Trend trend = Trend.of(y);
      boolean notable = trend.adjustedPValue() < DataCheck.NOTABLE_LEVEL;
      checks.add(
          new DataCheck.Done(
              "drift",
              "Values drift with their order",
              about,
              List.of(),
              trend.slope(),
              OptionalDouble.empty(),
              OptionalDouble.of(trend.adjustedPValue()),
              notable,
              notable
                  ? "Values drift steadily from run to run (change for one run shown), memory from"
                      + " run to run allowed for; look at the check standard."
                  : "No steady drift from run to run is seen, memory from run to run allowed"
                      + " for."));
    }
    return checks;
  }
}
