package lotproof.claim;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import lotproof.claim.FigureDetail.BudgetLine;
import lotproof.claim.FigureDetail.ConfidencePoint;
import lotproof.claim.FigureDetail.ContentPoint;
import lotproof.claim.FigureDetail.Contributor;
import lotproof.claim.FigureDetail.GridPoint;
import lotproof.claim.FigureDetail.LeftOut;
import lotproof.model.Role;
import lotproof.reduce.ReducedRun;
import lotproof.statistics.tolerance.DistributionFree;
import lotproof.study.CalibrationLevel;
import lotproof.study.ClaimForm;
import lotproof.study.ClaimRequest;
import lotproof.study.Design;
import lotproof.study.MassClass;
import lotproof.study.UnitKind;
import org.apache.commons.math3.distribution.NormalDistribution;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;

/** What stands behind and beside a figure, held against figures that are made anew. */
class FigureDetailTest {
  private static final long SEED = 11;
  private static final int UNITS = 12;

  private static final InventedKits KITS = new InventedKits(SEED, 1, 0);
  private static final List<InventedKits.Unit> CELLS = KITS.units(UnitKind.CELL, UNITS);
  private static final List<InventedKits.Unit> BOARDS = KITS.units(UnitKind.BOARD, UNITS);
  private static final List<ReducedRun> RUNS = new ArrayList<>();
  private static LevelClaim claim;

  @BeforeAll
  static void measure() {
    for (int pass = 0; pass < 3; pass++) {
      for (int i = 0; i < UNITS; i++) {
        // the third pass repeats the first
        InventedKits.Unit board = BOARDS.get((i + pass % 2) % UNITS);
        RUNS.add(KITS.run("r" + pass + "-" + i, CELLS.get(i), board));
      }
    }
    claim = claim(RUNS, true, 0.95, 0.95);
  }

  private static LevelClaim claim(
      List<ReducedRun> runs, boolean details, double content, double confidence) {
    ClaimRequest request =
        new ClaimRequest(
            content,
            confidence,
            1,
            new ClaimForm.Symmetric(),
            ClaimRequest.Subject.KIT,
            OptionalDouble.empty(),
            List.of(
                new ClaimRequest.LevelRequest(
                    new CalibrationLevel.None(), OptionalDouble.empty())));
    Design design = new Design(Design.Kind.ROTATION, InventedKits.LOADS, List.of());
    return InventedKits.claims(
            InventedKits.study(
                KITS.lotsOf(UnitKind.CELL, CELLS),
                KITS.lotsOf(UnitKind.BOARD, BOARDS),
                design,
                request,
                MassClass.M1),
            runs,
            details)
        .get(0);
  }

  private static LevelOutcome.Figure figure() {
    return claim.figure().orElseThrow();
  }

  private static FigureDetail detail() {
    return claim.detail().orElseThrow();
  }

  @Test
  void theAddendsGiveThePrintableFigure() {
    List<FigureDetail.Addend> sum = detail().sum();
    assertThat(sum.stream().mapToDouble(FigureDetail.Addend::grams).sum())
        .isCloseTo(figure().printableGrams(), within(1e-9));
    LevelOutcome.PointLimit worst = figure().worst();
    assertThat(sum.get(0).cause()).isEqualTo(FigureChange.Cause.MEAN);
    assertThat(sum.get(0).grams()).isCloseTo(Math.abs(worst.meanGrams()), within(1e-12));
    // mean and spread, if they were known, hold the content between both limits
    double known = sum.get(0).grams() + sum.get(1).grams();
    NormalDistribution errors =
        new NormalDistribution(worst.meanGrams(), worst.totalStandardDeviationGrams());
    assertThat(errors.probability(-known, known)).isCloseTo(0.95, within(1e-6));
    assertThat(sum.get(2).grams()).as("not knowing them costs something").isPositive();
  }

  @Test
  void theConfidenceCurveRisesAndGoesThroughTheModelsBound() {
    List<ConfidencePoint> curve = detail().confidenceCurve();
    for (int i = 1; i < curve.size(); i++) {
      assertThat(curve.get(i).grams()).isGreaterThanOrEqualTo(curve.get(i - 1).grams());
      assertThat(curve.get(i).byModel()).isGreaterThan(curve.get(i - 1).byModel());
      assertThat(curve.get(i).byTestedKits())
          .isGreaterThanOrEqualTo(curve.get(i - 1).byTestedKits());
    }
    ConfidencePoint asked =
        curve.stream().filter(p -> p.byModel() == 0.95).findFirst().orElseThrow();
    assertThat(asked.grams())
        .isCloseTo(figure().modelGrams() + figure().guards().totalGrams(), within(1e-9));
    ConfidencePoint last = curve.get(curve.size() - 1);
    assertThat(last.grams() - figure().guards().totalGrams())
        .isGreaterThan(figure().tested().largestGrams());
    // beyond the largest of n kits that share no unit: 1 - content^n
    assertThat(last.byTestedKits())
        .isCloseTo(1 - Math.pow(0.95, figure().tested().disjointKits()), within(1e-12));
  }

  @Test
  void confidenceIsReadBetweenThePointsOfTheCurve() {
    List<ConfidencePoint> curve =
        List.of(
            new ConfidencePoint(10, 0.5, 0),
            new ConfidencePoint(20, 0.9, 0),
            new ConfidencePoint(30, 0.99, 0));
    assertThat(FigureDiagnostics.confidenceAt(curve, 9)).isZero();
    assertThat(FigureDiagnostics.confidenceAt(curve, 10)).isEqualTo(0.5);
    // log odds 0 and ln 9: half way ln 3, which is 0.75
    assertThat(FigureDiagnostics.confidenceAt(curve, 15)).isCloseTo(0.75, within(1e-12));
    assertThat(FigureDiagnostics.confidenceAt(curve, 20)).isCloseTo(0.9, within(1e-12));
    assertThat(FigureDiagnostics.confidenceAt(curve, 99)).isEqualTo(0.99);
  }

  @Test
  void theContentCurveRisesAndGoesThroughTheModelsBound() {
    List<ContentPoint> curve = detail().contentCurve();
    for (int i = 1; i < curve.size(); i++) {
      assertThat(curve.get(i).content()).isGreaterThan(curve.get(i - 1).content());
      assertThat(curve.get(i).byModelGrams())
          .isGreaterThanOrEqualTo(curve.get(i - 1).byModelGrams());
    }
    ContentPoint asked = curve.stream().filter(p -> p.content() == 0.95).findFirst().orElseThrow();
    assertThat(asked.byModelGrams())
        .isCloseTo(figure().modelGrams() + figure().guards().totalGrams(), within(1e-9));
    double supported = DistributionFree.contentOfExtreme(figure().tested().disjointKits(), 0.95);
    for (ContentPoint point : curve) {
      assertThat(point.byTestedKitsGrams().isPresent())
          .as("tested kits at content " + point.content())
          .isEqualTo(point.content() <= supported);
    }
  }

  @Test
  void theGridGoesThroughTheLimitAndGrowsWithContentAndConfidence() {
    List<GridPoint> grid = detail().grid();
    assertThat(grid).hasSize(16);
    GridPoint asked =
        grid.stream()
            .filter(p -> p.content() == 0.95 && p.confidence() == 0.95)
            .findFirst()
            .orElseThrow();
    assertThat(asked.limitGrams().getAsDouble()).isCloseTo(figure().limitGrams(), within(1e-9));
    for (GridPoint point : grid) {
      grid.stream()
          .filter(p -> p.content() <= point.content() && p.confidence() <= point.confidence())
          .forEach(
              p ->
                  assertThat(p.limitGrams().getAsDouble())
                      .isLessThanOrEqualTo(point.limitGrams().getAsDouble()));
    }
  }

  @Test
  void theGridIsWhatTheClaimSaysOnceItIsAskedSo() {
    GridPoint point =
        detail().grid().stream()
            .filter(p -> p.content() == 0.99 && p.confidence() == 0.9)
            .findFirst()
            .orElseThrow();
    LevelClaim asked = claim(RUNS, false, 0.99, 0.9);
    assertThat(((LevelOutcome.Figure) asked.outcome()).limitGrams())
        .isCloseTo(point.limitGrams().getAsDouble(), within(1e-9));
  }

  @Test
  void theBudgetHoldsAllSpreadAndAllThatIsAdded() {
    List<BudgetLine> budget = detail().budget();
    double shares =
        budget.stream()
            .filter(line -> line.contributor() instanceof Contributor.Spread)
            .mapToDouble(BudgetLine::varianceShareFraction)
            .sum();
    // sensitivity and shape are fitted apart, so that their sum may differ from the whole
    assertThat(shares).isCloseTo(1, within(0.05));
    double guards =
        budget.stream()
            .filter(line -> line.contributor() instanceof Contributor.Guard)
            .mapToDouble(BudgetLine::costGrams)
            .sum();
    assertThat(guards).isCloseTo(figure().guards().totalGrams(), within(1e-9));
    double worst = figure().worst().figureGrams();
    assertThat(budget)
        .allSatisfy(
            line ->
                assertThat(line.costGrams())
                    .isBetween(0.0, worst + figure().guards().totalGrams()));
    // the population was made so: the sensitivity of cells is by far the widest
    assertThat(budget.get(0).contributor())
        .isEqualTo(
            new Contributor.Spread(Role.CELL, Role.CELL.title(), Contributor.Part.PROPORTIONAL));
    assertThat(budget.stream().mapToDouble(BudgetLine::costGrams).max().orElseThrow())
        .isEqualTo(budget.get(0).costGrams());
  }

  @Test
  void aUnitLeftOutGivesTheFigureOfTheRunsWithoutIt() {
    List<LeftOut> leftOut = detail().leftOut();
    assertThat(leftOut).isNotEmpty();
    LeftOut first = leftOut.get(0);
    assertThat(leftOut)
        .allSatisfy(
            unit ->
                assertThat(Math.abs(unit.changeGrams()))
                    .isLessThanOrEqualTo(Math.abs(first.changeGrams())));
    for (LeftOut unit : leftOut.subList(0, 2)) {
      List<ReducedRun> without =
          RUNS.stream()
              .filter(
                  run ->
                      !(unit.kind() == UnitKind.CELL ? run.run().cell() : run.run().board())
                          .equals(unit.serial()))
              .toList();
      LevelOutcome.Figure anew = claim(without, false, 0.95, 0.95).figure().orElseThrow();
      double guards = figure().guards().totalGrams();
      assertThat(unit.testedGrams() - guards).isEqualTo(anew.tested().largestGrams(), within(1e-9));
      assertThat(unit.modelGrams() - guards)
          .isCloseTo(anew.modelGrams(), within(1e-4 * anew.modelGrams()));
      assertThat(unit.boundGrams()).isEqualTo(Math.max(unit.modelGrams(), unit.testedGrams()));
    }
  }

  @Test
  void typicalIsBelowTheLimit() {
    assertThat(detail().typicalGrams()).isPositive().isLessThan(figure().limitGrams());
  }
}
