package lotproof.claim.upkeep;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Random;
import java.util.Set;
import java.util.stream.IntStream;
import lotproof.claim.LevelOutcome.Contribution;
import lotproof.claim.LevelOutcome.PointLimit;
import lotproof.claim.evidence.ErrorsInClaimForm;
import lotproof.model.FactorPlan;
import lotproof.model.MeasuredValues;
import lotproof.model.Role;
import lotproof.reduce.Direction;
import lotproof.reduce.ErrorCurve;
import lotproof.statistics.FoldedNormal;
import lotproof.statistics.components.ComponentsFit;
import lotproof.statistics.components.FutureUnitLimits;
import lotproof.statistics.conformity.Conformity;
import lotproof.statistics.conformity.Risks;
import lotproof.statistics.conformity.Zone;
import lotproof.study.ClaimForm;
import lotproof.study.WatchLine;
import org.junit.jupiter.api.Test;

class UpkeepTest {
  private static final long SEED = 5;

  /** 0 of n in closed form; 1 and 2 of 50 from Clopper and Pearson's limits, three digits. */
  @Test
  void theShareOfBadUnitsIsBoundedAsByClopperAndPearson() {
    assertThat(SplitClaim.upperFraction(0, 50, 0.95))
        .isCloseTo(1 - Math.pow(0.05, 1 / 50.0), within(1e-12));
    assertThat(SplitClaim.upperFraction(1, 50, 0.95)).isCloseTo(0.091, within(5e-4));
    assertThat(SplitClaim.upperFraction(2, 50, 0.95)).isCloseTo(0.121, within(5e-4));
    assertThatThrownBy(() -> SplitClaim.upperFraction(50, 50, 0.95))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessageContaining("50");
  }

  @Test
  void halfWidthsOfAKnownNormal() {
    assertThat(FoldedNormal.halfWidth(0, 1, 0.95)).isCloseTo(1.959963984540054, within(1e-9));
    assertThat(FoldedNormal.halfWidth(-3, 0, 0.95)).isEqualTo(3);
    assertThat(FoldedNormal.halfWidth(8, 1, 0.95)).isCloseTo(8 + 1.6448536269514722, within(1e-9));
    assertThatThrownBy(() -> FoldedNormal.halfWidth(0, Double.NaN, 0.95))
        .isInstanceOf(IllegalArgumentException.class);
  }

  private static PointLimit point(double load, double mean, double unit, double repeat) {
    return new PointLimit(
        load,
        Direction.RISING,
        mean,
        Math.hypot(unit, repeat),
        1,
        1,
        1,
        List.of(
            new Contribution(Role.CELL, "Cells", unit),
            new Contribution(Role.RESIDUAL, "Bench", repeat)));
  }

  private static ProductionReadings errors(List<PointLimit> points, double noise) {
    Random random = new Random(SEED);
    List<ErrorCurve> curves = new ArrayList<>();
    for (int i = 0; i < 60; i++) {
      double slope = 4 * random.nextGaussian();
      List<ErrorCurve.Point> curve =
          points.stream()
              .map(
                  p ->
                      new ErrorCurve.Point(
                          p.loadKilograms(),
                          p.direction(),
                          slope * p.loadKilograms() / 50 + noise * random.nextGaussian()))
              .toList();
      curves.add(new ErrorCurve("R" + i, "C" + i, "B" + i, curve));
    }
    return ProductionReadings.of(
        ErrorsInClaimForm.of(curves, new ClaimForm.Symmetric()), points, Optional.empty());
  }

  private static LimitOptions options(double uncertainty, Double... loads) {
    return new LimitOptions(
        Map.of(), List.of(loads), false, OptionalDouble.of(uncertainty), false, 0.95);
  }

  private static ProductionTest test(
      ProductionReadings errors, LimitOptions options, double figure) {
    return FinishedTestCalculator.of(new PlannedTest(errors, options, figure, 0.5), 0.95, true);
  }

  /** One load, tested: the guard band and the risks are those of JCGM 106 and nothing else. */
  @Test
  void aSingleTestedLoadIsGuardedAsTheGuideSays() {
    ProductionReadings errors = errors(List.of(point(50, 1, 4, 0.3)), 0.3);
    ProductionTest.Finished test = (ProductionTest.Finished) test(errors, options(0.4, 50.0), 10);
    double u = 0.5;
    double bound = 9.5 - Conformity.guardBand(u, 0.95, Zone.symmetric(9.5));
    assertThat(test.boundGrams()).isCloseTo(bound, within(1e-12));
    assertThat(bound).isCloseTo(9.5 - 1.6448536269514722 * u, within(1e-9));
    assertThat(test.acceptGrams()).isLessThanOrEqualTo(bound).isGreaterThan(bound - 0.01);
    Risks risks =
        Conformity.risks(1, 4, u, Zone.symmetric(9.5), Zone.symmetric(test.acceptGrams()));
    assertThat(test.expected().consumersRisk()).isCloseTo(risks.consumer(), within(1e-9));
    assertThat(test.expected().producersRisk()).isCloseTo(risks.producer(), within(1e-9));
  }

  @Test
  void aWorseTesterAndFewerTestedLoadsTightenTheLimit() {
    List<PointLimit> points = List.of(point(20, 0, 1.6, 0.3), point(50, 0, 4, 0.3));
    ProductionReadings errors = errors(points, 0.3);
    double good =
        ((ProductionTest.Finished) test(errors, options(0.1, 20.0, 50.0), 10)).boundGrams();
    double bad =
        ((ProductionTest.Finished) test(errors, options(0.8, 20.0, 50.0), 10)).boundGrams();
    double few = ((ProductionTest.Finished) test(errors, options(0.1, 20.0), 10)).boundGrams();
    assertThat(bad).isLessThan(good);
    assertThat(few).isLessThan(good);
  }

  @Test
  void aFigureThatMassesAndReadingsUseUpCannotBeProtected() {
    ProductionReadings errors = errors(List.of(point(50, 1, 4, 0.3)), 0.3);
    assertThat(test(errors, options(0.4, 50.0), 0.4))
        .isInstanceOfSatisfying(
            ProductionTest.CannotProtect.class,
            c -> assertThat(c.why()).isEqualTo(new ProductionTest.Why.NothingLeft(0.5)));
    assertThat(test(errors, options(3, 50.0), 2))
        .isInstanceOfSatisfying(
            ProductionTest.CannotProtect.class,
            c -> assertThat(c.why()).isInstanceOf(ProductionTest.Why.NoRoom.class));
  }

  @Test
  void optionsRefuseWhatCannotBe() {
    assertThatThrownBy(() -> options(Double.NaN)).isInstanceOf(IllegalArgumentException.class);
    assertThatThrownBy(() -> options(0)).hasMessageContaining("0");
    assertThatThrownBy(() -> options(1, -5.0)).hasMessageContaining("-5");
    assertThatThrownBy(
            () ->
                new LimitOptions(
                    Map.of("none", -1.0), List.of(), true, OptionalDouble.empty(), false, 0.95))
        .hasMessageContaining("none");
  }

  @Test
  void roundsInwardOnly() {
    assertThat(ProductionReadings.roundedInward(9.999)).isEqualTo(9.99);
    assertThat(ProductionReadings.roundedInward(44.4)).isEqualTo(44.4);
  }

  private static ComponentsFit fit(FactorPlan plan, MeasuredValues values) {
    return (ComponentsFit) plan.fit(values);
  }

  private static MeasuredValues rotation() {
    Random random = new Random(SEED);
    double[] cells = IntStream.range(0, 40).mapToDouble(i -> random.nextGaussian()).toArray();
    double[] boards = IntStream.range(0, 40).mapToDouble(i -> random.nextGaussian() / 2).toArray();
    List<Double> values = new ArrayList<>();
    List<String> cellNames = new ArrayList<>();
    List<String> boardNames = new ArrayList<>();
    for (int pass = 0; pass < 2; pass++) {
      for (int i = 0; i < 40; i++) {
        int board = (i + pass) % 40;
        values.add(2 + cells[i] + boards[board] + 0.2 * random.nextGaussian());
        cellNames.add("C" + i);
        boardNames.add("B" + board);
      }
    }
    return new MeasuredValues(
        "error", "Error", "g", values, Map.of(Role.CELL, cellNames, Role.BOARD, boardNames));
  }

  /** P(Bin(5, 0.05) is 1 or more) = 1 - 0.95^5. */
  @Test
  void countsBeyondTheFigureAreBinomial() {
    assertThat(LaterLotRules.binomialUpperTail(1, 5, 0.05))
        .isCloseTo(1 - Math.pow(0.95, 5), within(1e-12));
    assertThat(LaterLotRules.binomialUpperTail(5, 5, 0.05))
        .isCloseTo(Math.pow(0.05, 5), within(1e-12));
    assertThat(LaterLotRules.binomialUpperTail(0, 5, 0.05)).isEqualTo(1);
  }

  @Test
  void aLotIsJudgedByMeanSpreadAndSingleKits() {
    MeasuredValues values = rotation();
    FactorPlan plan = FactorPlan.of(values);
    ComponentsFit fit = fit(plan, values);
    double figure = FutureUnitLimits.of(fit, Set.of(), 0.95, 0.95).symmetricHalfWidth();
    LaterLotRules rules = new LaterLotRules(fit, Set.of(), 0.01, true);
    double sd = rules.withinSd();
    double mean = fit.mean();
    double[] like = {mean - sd, mean, mean + 0.5 * sd, mean + sd, mean - 0.4 * sd};
    assertThat(judge(rules, like, figure).verdict()).isEqualTo(WatchLine.Verdict.CLAIM_HOLDS);

    double shift = -(rules.meanLimit(5) + 0.1 * sd);
    double[] low = java.util.Arrays.stream(like).map(v -> v + shift - 0.02 * sd).toArray();
    LaterLotCheck.Judgement moved = judge(rules, low, figure);
    assertThat(moved.verdict()).isEqualTo(WatchLine.Verdict.RE_STUDY);
    assertThat(moved.broken()).containsExactly(LaterLotCheck.Rule.MEAN);

    double[] wide = {mean - 2.6 * sd, mean, mean + 2.6 * sd, mean + 2.4 * sd, mean - 2.4 * sd};
    assertThat(judge(rules, wide, 100).broken()).contains(LaterLotCheck.Rule.SPREAD);

    double[] far = {mean, mean, mean, mean, mean + 12 * sd};
    assertThat(judge(rules, far, figure).verdict()).isEqualTo(WatchLine.Verdict.HOLD_THE_LOT);

    double[] one = {mean};
    assertThat(judge(rules, one, figure).spread().grams()).isEmpty();
  }

  private static LaterLotCheck.Judgement judge(
      LaterLotRules rules, double[] values, double figure) {
    double[] sizes = java.util.Arrays.stream(values).map(Math::abs).toArray();
    return rules.judge(values, sizes, figure, 0.95);
  }
}
