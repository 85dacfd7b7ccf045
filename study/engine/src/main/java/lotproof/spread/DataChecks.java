package lotproof.spread;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.stream.IntStream;
import lotproof.model.FactorPlan;
import lotproof.model.GroupedValues;
import lotproof.model.MeasuredValues;
import lotproof.model.Role;
import lotproof.spread.DataCheck.About;
import lotproof.spread.DataCheck.Kind;
import lotproof.statistics.components.BestLinearPredictors;
import lotproof.statistics.components.BestLinearPredictors.FactorEffects;
import lotproof.statistics.components.ComponentsFit;
import lotproof.statistics.homogeneity.Bartlett;
import lotproof.statistics.homogeneity.BrownForsythe;
import lotproof.statistics.outliers.Cochran;
import lotproof.statistics.outliers.GeneralizedEsd;
import lotproof.statistics.outliers.Grubbs;
import lotproof.statistics.outliers.ModifiedZ;
import lotproof.statistics.sequence.RunsTest;
import lotproof.statistics.sequence.Trend;
import lotproof.statistics.shape.TwoGroups;
import tech.tablesaw.api.DoubleColumn;

/** All checks on the values of one characteristic. */
final class DataChecks {
  /** Fewer units say nothing on values far out. */
  static final int FEWEST_UNITS = 6;

  private static final int FEWEST_FOR_TWO_GROUPS = 10;

  /** The test of several extremes keeps its level from about here on (Rosner 1983). */
  private static final int FEWEST_FOR_SEVERAL = 15;

  private static final int MOST_EXTREMES = 10;
  private static final int FEWEST_IN_LOT = 3;
  private static final int FEWEST_IN_ORDER = 10;
  private static final int FEWEST_REPEATED = 3;
  private final MeasuredValues values;
  private final List<DataCheck> checks = new ArrayList<>();

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
    DataChecks all = new DataChecks(values);
    fit.ifPresent(f -> all.units(plan, f));
    all.repeats();
    all.order();
    return all.checks;
  }

  private void units(FactorPlan plan, ComponentsFit fit) {
    List<Role> units = List.of(Role.CELL, Role.BOARD, Role.KIT);
    for (FactorEffects effects : BestLinearPredictors.predict(fit)) {
      units.stream()
          .filter(role -> effects.component().equals(role.component()))
          .forEach(role -> unitsOf(role, effects.standardized()));
    }
    if (plan.roles().stream().noneMatch(units::contains)) {
      farOut(
          "value",
          IntStream.rangeClosed(1, values.values().size()).mapToObj(i -> "value " + i).toList(),
          // lots apart are no two groups of units
          BestLinearPredictors.residuals(fit).standardized());
    }
  }

  /**
   * Looks at the units of one kind.
   *
   * @param effects how far each lies from the mean, partners taken out as far as known, each in its
   *     own standard deviation where units were measured unequally often
   */
  private void unitsOf(Role role, double[] effects) {
    List<String> labels = FactorPlan.labels(values, role);
    List<String> serials = labels.stream().distinct().toList();
    farOut(role.key(), serials, effects);
    Role lot = role == Role.CELL ? Role.CELL_LOT : Role.BOARD_LOT;
    if (role != Role.KIT) {
      values
          .labelsOf(lot)
          .ifPresent(
              names ->
                  lots(
                      lot.key(),
                      serials.stream().map(s -> names.get(labels.indexOf(s))).toList(),
                      effects));
    }
  }

  private void farOut(String noun, List<String> names, double[] effects) {
    About about = new About(names.size(), noun, 0);
    if (effects.length < FEWEST_UNITS || Arrays.stream(effects).distinct().count() < 3) {
      checks.add(DataCheck.notDone(Kind.GRUBBS, about));
      return;
    }
    Grubbs.test(effects, DataCheck.NOTABLE_LEVEL)
        .ifPresent(
            test ->
                checks.add(
                    new DataCheck(
                        Kind.GRUBBS,
                        about,
                        List.of(names.get(test.index())),
                        OptionalDouble.of(test.statistic()),
                        OptionalDouble.of(test.criticalValue()),
                        OptionalDouble.of(test.pValue()),
                        test.extreme())));
    if (effects.length >= FEWEST_FOR_SEVERAL) {
      int most = Math.min(MOST_EXTREMES, effects.length / 4);
      GeneralizedEsd test = GeneralizedEsd.test(effects, most, DataCheck.NOTABLE_LEVEL);
      checks.add(
          pointingAt(
              Kind.GENERALIZED_ESD,
              new About(names.size(), noun, most),
              test.extremes().stream().map(step -> names.get(step.index())).toList(),
              test.extremeCount(),
              OptionalDouble.empty()));
    }
    checks.add(
        ModifiedZ.of(effects)
            .map(
                z ->
                    pointingAt(
                        Kind.MODIFIED_Z,
                        about,
                        z.beyond().stream().map(names::get).toList(),
                        z.scores().stream().mapToDouble(Math::abs).max().orElse(0),
                        OptionalDouble.of(ModifiedZ.CUSTOMARY_THRESHOLD)))
            .orElseGet(() -> DataCheck.notDone(Kind.MODIFIED_Z, about)));
    if (effects.length >= FEWEST_FOR_TWO_GROUPS) {
      TwoGroups.of(effects)
          .ifPresent(
              test ->
                  checks.add(
                      DataCheck.byChance(Kind.TWO_GROUPS, about, test.share(), test.pValue())));
    }
  }

  private static DataCheck pointingAt(
      Kind kind, About about, List<String> out, double statistic, OptionalDouble critical) {
    return new DataCheck(
        kind,
        about,
        out,
        OptionalDouble.of(statistic),
        critical,
        OptionalDouble.empty(),
        !out.isEmpty());
  }

  /** Whether lots scatter alike. */
  private void lots(String noun, List<String> lotOf, double[] effects) {
    Map<String, DoubleColumn> byLot = GroupedValues.of(lotOf, effects);
    if (byLot.size() < 2) {
      return;
    }
    List<double[]> groups =
        byLot.values().stream()
            .filter(lot -> lot.size() >= FEWEST_IN_LOT)
            .map(DoubleColumn::asDoubleArray)
            .toList();
    About about = new About(groups.size(), noun, 0);
    if (groups.size() < 2) {
      checks.add(DataCheck.notDone(Kind.BROWN_FORSYTHE, about));
      return;
    }
    if (groups.stream().allMatch(g -> Arrays.stream(g).distinct().count() > 1)) {
      Bartlett.test(groups)
          .map(t -> DataCheck.byChance(Kind.BARTLETT, about, t.statistic(), t.pValue()))
          .ifPresent(checks::add);
    }
    BrownForsythe.test(groups)
        .map(t -> DataCheck.byChance(Kind.BROWN_FORSYTHE, about, t.statistic(), t.pValue()))
        .ifPresent(checks::add);
  }

  /** Cochran's test on the variances of all kits that were repeated. */
  private void repeats() {
    Map<String, DoubleColumn> repeated = BenchShares.valuesByKit(values);
    repeated.values().removeIf(kit -> kit.size() < 2);
    if (repeated.isEmpty()) {
      return;
    }
    List<String> kits = List.copyOf(repeated.keySet());
    int[] times = repeated.values().stream().mapToInt(DoubleColumn::size).toArray();
    About about = new About(kits.size(), "kit", Arrays.stream(times).max().orElseThrow());
    if (kits.size() < FEWEST_REPEATED) {
      checks.add(DataCheck.notDone(Kind.COCHRAN, about));
      return;
    }
    double[] variances = repeated.values().stream().mapToDouble(DoubleColumn::variance).toArray();
    Cochran.test(variances, times, DataCheck.NOTABLE_LEVEL)
        .ifPresent(
            test ->
                checks.add(
                    new DataCheck(
                        Kind.COCHRAN,
                        about,
                        List.of(kits.get(test.index())),
                        OptionalDouble.of(test.statistic()),
                        OptionalDouble.of(test.criticalValue()),
                        OptionalDouble.of(test.pValue()),
                        test.extreme())));
  }

  private void order() {
    double[] y = values.array();
    if (y.length < FEWEST_IN_ORDER || Arrays.stream(y).distinct().count() < 3) {
      return;
    }
    About about = new About(y.length, "value", 0);
    RunsTest.aboutMedian(y)
        .map(t -> DataCheck.byChance(Kind.RUNS, about, t.statistic(), t.pValue()))
        .ifPresent(checks::add);
    Trend trend = Trend.of(y);
    checks.add(DataCheck.byChance(Kind.DRIFT, about, trend.slope(), trend.adjustedPValue()));
  }
}
