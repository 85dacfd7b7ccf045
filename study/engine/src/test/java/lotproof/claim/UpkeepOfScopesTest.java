package lotproof.claim;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import lotproof.claim.draft.DraftCheck;
import lotproof.claim.draft.DraftReport;
import lotproof.claim.upkeep.LaterLotCalculator;
import lotproof.claim.upkeep.LaterLotCheck;
import lotproof.claim.upkeep.LimitOptions;
import lotproof.claim.upkeep.ProductionLimits;
import lotproof.claim.upkeep.ProductionTest;
import lotproof.reduce.ErrorOfReading;
import lotproof.reduce.ReducedRun;
import lotproof.study.CalibrationLevel;
import lotproof.study.ClaimForm;
import lotproof.study.ClaimRequest;
import lotproof.study.Design;
import lotproof.study.MassClass;
import lotproof.study.Reading;
import lotproof.study.Study;
import lotproof.study.UnitKind;
import lotproof.study.WatchLine;
import org.junit.jupiter.api.Test;

/**
 * Production limits and later lots where the figure is not plus or minus grams of a kit at one
 * temperature: with a temperature correction, for cells or boards alone, in other forms.
 */
class UpkeepOfScopesTest {
  private static final int UNITS = 30;
  private static final CalibrationLevel NONE = new CalibrationLevel.None();
  private static final CalibrationLevel ONE_POINT =
      new CalibrationLevel.Calibrated(List.of(20.0), MassClass.M1);
  private static final InventedKits.Unit RB = new InventedKits.Unit("rb", 0.0005, 0, 0);

  private final InventedKits kits = new InventedKits(3, 1, 0);
  private final List<InventedKits.Unit> cells = kits.units(UnitKind.CELL, UNITS);
  private final List<InventedKits.Unit> boards = kits.units(UnitKind.BOARD, UNITS);
  private final InventedKits later = new InventedKits(91, 1, 0);

  private static List<Reading> readings(List<ReducedRun> runs) {
    return runs.stream().flatMap(run -> run.run().readings().stream()).toList();
  }

  private StudyResult result(
      ClaimRequest.Subject subject,
      ClaimForm form,
      boolean reference,
      Optional<ClaimRequest.TemperatureCorrection> correction,
      List<ReducedRun> runs) {
    ClaimRequest claim =
        new ClaimRequest(
            0.95,
            0.95,
            1,
            form,
            subject,
            OptionalDouble.empty(),
            List.of(
                new ClaimRequest.LevelRequest(NONE, OptionalDouble.empty(), correction),
                new ClaimRequest.LevelRequest(ONE_POINT, OptionalDouble.empty(), correction)));
    Design design =
        reference
            ? new Design(
                Design.Kind.REFERENCE_PARTNER,
                InventedKits.LOADS,
                List.of(),
                Optional.of(new Design.ReferencePartners("rc", "rb", false)),
                List.of(),
                Design.Pairing.NOT_STATED)
            : new Design(Design.Kind.ROTATION, InventedKits.LOADS, List.of());
    Study study =
        InventedKits.study(
            kits.lotsOf(UnitKind.CELL, cells),
            kits.lotsOf(UnitKind.BOARD, boards),
            design,
            claim,
            MassClass.F2);
    return new StudyAnalysis(study).analyse(readings(runs), List.of());
  }

  private StudyResult corrected() {
    List<ReducedRun> runs = new ArrayList<>();
    for (int i = 0; i < UNITS; i++) {
      double cold = i % 2 == 0 ? 19 : 25;
      runs.add(kits.runAt("r" + i, cells.get(i), boards.get(i), cold));
      runs.add(kits.runAt("s" + i, cells.get(i), boards.get((i + 1) % UNITS), 22));
      runs.add(kits.runAt("t" + i, cells.get(i), boards.get(i), 44 - cold));
    }
    return result(
        ClaimRequest.Subject.KIT,
        new ClaimForm.Symmetric(),
        false,
        Optional.of(new ClaimRequest.TemperatureCorrection(0)),
        runs);
  }

  private StudyResult rotation(ClaimRequest.Subject subject, ClaimForm form) {
    List<ReducedRun> runs = new ArrayList<>();
    for (int i = 0; i < UNITS; i++) {
      runs.add(kits.run("r" + i, cells.get(i), boards.get(i)));
      runs.add(kits.run("s" + i, cells.get(i), boards.get((i + 1) % UNITS)));
      if (i < 12) {
        runs.add(kits.run("t" + i, cells.get(i), boards.get(i)));
      }
    }
    return result(subject, form, false, Optional.empty(), runs);
  }

  private StudyResult cellsOnTheReferenceBoard() {
    List<ReducedRun> runs = new ArrayList<>();
    for (int i = 0; i < UNITS; i++) {
      runs.add(kits.run("r" + i, cells.get(i), RB));
      if (i < 12) {
        runs.add(kits.run("t" + i, cells.get(i), RB));
      }
    }
    return result(
        ClaimRequest.Subject.CELL, new ClaimForm.Symmetric(), true, Optional.empty(), runs);
  }

  private static ProductionLimits limits(StudyResult result, boolean changes) {
    return limits(result, changes, Map.of());
  }

  private static ProductionLimits limits(
      StudyResult result, boolean changes, Map<String, Double> figures) {
    return ProductionLimits.of(
        result, new LimitOptions(figures, List.of(), true, OptionalDouble.of(0.3), changes, 0.95));
  }

  private List<InventedKits.Unit> renamed(UnitKind kind, int count, double gain) {
    return later.units(kind, count).stream()
        .map(
            u ->
                new InventedKits.Unit(
                    "N" + u.serial(),
                    u.gain() + gain,
                    u.bowGrams(),
                    u.hysteresisGrams(),
                    u.perKelvin()))
        .toList();
  }

  private static LaterLotCheck check(StudyResult result, List<ReducedRun> runs) {
    return ((LaterLotCalculator.Outcome.Checked)
            LaterLotCalculator.of(result, readings(runs), Map.of()))
        .check();
  }

  /**
   * Kits of the same population, calibrated and tested at one temperature; of those that pass, the
   * share that keeps the figure six kelvin from the calibration.
   */
  @Test
  void aTestAtOneTemperatureProtectsAFigureForAChange() {
    StudyResult result = corrected();
    double safest = result.asDecided().claims().get(1).figure().orElseThrow().printableGrams();
    ProductionLimits.LevelLimits level =
        limits(result, false, Map.of("one-point", 1.5 * safest)).levels().get(1);
    ProductionTest.Finished test = (ProductionTest.Finished) level.finished();
    assertThat(level.changeKelvin().getAsDouble()).isCloseTo(6, within(1e-9));
    assertThat(test.acceptGrams()).isLessThan(level.figureGrams());
    assertThat(test.loads()).noneMatch(ProductionTest.LoadGuard::tested);
    ErrorOfReading errors =
        new ErrorOfReading(InventedKits.kit(), InventedKits.MEAN_PER_KELVIN, 22);
    int passed = 0;
    int kept = 0;
    List<InventedKits.Unit> newCells = later.units(UnitKind.CELL, 2000);
    List<InventedKits.Unit> newBoards = later.units(UnitKind.BOARD, 2000);
    for (int i = 0; i < newCells.size(); i++) {
      ReducedRun cold = later.runAt("c" + i, newCells.get(i), newBoards.get(i), 19);
      ReducedRun warm = later.runAt("w" + i, newCells.get(i), newBoards.get(i), 25);
      double seen = errors.curve(warm.run(), warm.run(), ONE_POINT).orElseThrow().largestGrams();
      if (seen <= test.acceptGrams()) {
        passed++;
        double used = errors.curve(cold.run(), warm.run(), ONE_POINT).orElseThrow().largestGrams();
        kept += used <= level.figureGrams() ? 1 : 0;
      }
    }
    assertThat(passed).isGreaterThan(1000);
    assertThat(kept / (double) passed).isGreaterThan(0.95);
    assertThat(test.expected().yieldFraction()).isBetween(0.5, 1.0);
  }

  @Test
  void aTestAtTwoTemperaturesIsGuardedAsAnyOther() {
    StudyResult result = corrected();
    ProductionTest.Finished test =
        (ProductionTest.Finished) limits(result, true).levels().get(1).finished();
    assertThat(test.loads()).allMatch(ProductionTest.LoadGuard::tested);
    // the pairs that were measured again share no unit
    assertThat(limits(result, true).levels().get(1).jig())
        .isInstanceOfSatisfying(
            ProductionTest.CannotProtect.class,
            c -> assertThat(c.why()).isEqualTo(new ProductionTest.Why.CellsAndBoardsMixed()));
  }

  @Test
  void aLaterLotIsCorrectedWithTheCoefficientOfTheStudy() {
    StudyResult result = corrected();
    List<InventedKits.Unit> newCells = renamed(UnitKind.CELL, 8, 0);
    List<InventedKits.Unit> newBoards = renamed(UnitKind.BOARD, 8, 0);
    List<ReducedRun> once = new ArrayList<>();
    List<ReducedRun> twice = new ArrayList<>();
    List<ReducedRun> other = new ArrayList<>();
    for (int i = 0; i < 8; i++) {
      InventedKits.Unit cell = newCells.get(i);
      InventedKits.Unit board = newBoards.get(i);
      once.add(later.runAt("a" + i, cell, board, 25));
      twice.add(later.runAt("b" + i, cell, board, 25));
      twice.add(later.runAt("c" + i, cell, board, 19));
      other.add(later.run("d" + i, cell, board, OptionalDouble.of(25), 3e-4));
      other.add(later.run("e" + i, cell, board, OptionalDouble.of(19), 3e-4));
    }
    LaterLotCheck atOne = check(result, once);
    assertThat(atOne.levels()).hasSize(2);
    assertThat(atOne.verdict()).isEqualTo(WatchLine.Verdict.CLAIM_HOLDS);
    assertThat(atOne.levels().get(1).level()).isEqualTo("one-point (20 kg), corrected");
    assertThat(atOne.remarks())
        .contains(new LaterLotCheck.Remark.AtOneTemperature("one-point (20 kg), corrected"));
    LaterLotCheck atTwo = check(result, twice);
    assertThat(atTwo.verdict()).isEqualTo(WatchLine.Verdict.CLAIM_HOLDS);
    assertThat(atTwo.remarks()).noneMatch(LaterLotCheck.Remark.AtOneTemperature.class::isInstance);
    // 280 ppm/K more than the study's: 84 g at 50 kg over the change
    assertThat(check(result, other).levels().get(1).judgement().verdict())
        .isEqualTo(WatchLine.Verdict.HOLD_THE_LOT);
    List<ReducedRun> unrecorded = List.of(later.run("f", newCells.get(0), newBoards.get(0)));
    assertThat(LaterLotCalculator.of(result, readings(unrecorded), Map.of()))
        .isInstanceOf(LaterLotCalculator.Outcome.NotChecked.class);
  }

  @Test
  void aDraftForACorrectedLevelMustSayThatReadingsAreCorrected() {
    StudyResult result = corrected();
    assertThat(result.asDecided().claims().get(1).description())
        .endsWith("corrected for temperature");
    String draft = "Error of reading within ±90 g after a one-point calibration";
    assertThat(DraftCheck.of(result, draft).findings())
        .anyMatch(f -> f.problem() == DraftReport.Problem.CORRECTION_NOT_STATED);
    assertThat(DraftCheck.of(result, draft + ", corrected for temperature").findings())
        .noneMatch(f -> f.problem() == DraftReport.Problem.CORRECTION_NOT_STATED);
  }

  @Test
  void cellsOnAReferenceBoardAreTestedThere() {
    StudyResult result = cellsOnTheReferenceBoard();
    ProductionLimits limits = limits(result, false);
    assertThat(limits.subject()).isEqualTo(ClaimRequest.Subject.CELL);
    ProductionLimits.LevelLimits level = limits.levels().get(0);
    ProductionTest.Finished test = (ProductionTest.Finished) level.finished();
    assertThat(level.jig()).isInstanceOf(ProductionTest.NotNeeded.class);
    assertThat(level.isProtected()).isTrue();
    assertThat(test.expected().runs()).isEqualTo(42);
  }

  @Test
  void aLaterLotOfCellsIsHeldAgainstCellsOnTheReferenceBoard() {
    StudyResult result = cellsOnTheReferenceBoard();
    List<ReducedRun> like = new ArrayList<>();
    List<ReducedRun> shifted = new ArrayList<>();
    List<ReducedRun> elsewhere = new ArrayList<>();
    for (InventedKits.Unit cell : renamed(UnitKind.CELL, 6, 0)) {
      like.add(later.run("a" + cell.serial(), cell, RB));
      elsewhere.add(later.run("b" + cell.serial(), cell, new InventedKits.Unit("q", 0, 0, 0)));
    }
    for (InventedKits.Unit cell : renamed(UnitKind.CELL, 6, 0.02)) {
      shifted.add(later.run("c" + cell.serial(), cell, RB));
    }
    LaterLotCheck check = check(result, like);
    assertThat(check.verdict()).isEqualTo(WatchLine.Verdict.CLAIM_HOLDS);
    assertThat(check.kits()).isEqualTo(6);
    assertThat(check.allKits()).isEqualTo(6);
    assertThat(check(result, shifted).verdict()).isEqualTo(WatchLine.Verdict.HOLD_THE_LOT);
    assertThat(LaterLotCalculator.of(result, readings(elsewhere), Map.of()))
        .isInstanceOfSatisfying(
            LaterLotCalculator.Outcome.NotChecked.class,
            not -> assertThat(not.why()).isEqualTo(LaterLotCalculator.Outcome.Why.NOT_OF_SUBJECT));
  }

  @Test
  void aClaimForCellsAloneFromKitsNeedsATestOfCells() {
    ProductionLimits.LevelLimits level =
        limits(rotation(ClaimRequest.Subject.CELL, new ClaimForm.Symmetric()), false)
            .levels()
            .get(0);
    assertThat(level.finished()).isInstanceOf(ProductionTest.NotNeeded.class);
    ProductionTest.OnJig jig = (ProductionTest.OnJig) level.jig();
    assertThat(jig.units()).isNotEmpty().allMatch(u -> u.kind() == UnitKind.CELL);
    assertThat(level.isProtected()).isTrue();
  }

  /** Boards with a spread of their own do not speak against a claim for cells alone. */
  @Test
  void aLaterLotOfKitsIsHeldAgainstAClaimForUnitsAlone() {
    for (ClaimRequest.Subject subject :
        List.of(ClaimRequest.Subject.CELL, ClaimRequest.Subject.BOARD)) {
      StudyResult result = rotation(subject, new ClaimForm.Symmetric());
      List<ReducedRun> like = new ArrayList<>();
      List<ReducedRun> shifted = new ArrayList<>();
      List<InventedKits.Unit> newBoards = renamed(UnitKind.BOARD, 6, 0);
      List<InventedKits.Unit> newCells = renamed(UnitKind.CELL, 6, 0);
      List<InventedKits.Unit> far = renamed(UnitKind.CELL, 6, 0.02);
      for (int i = 0; i < 6; i++) {
        like.add(later.run("a" + i, newCells.get(i), newBoards.get(i)));
        shifted.add(later.run("b" + i, far.get(i), newBoards.get(i)));
      }
      LaterLotCheck check = check(result, like);
      assertThat(check.verdict()).as(subject.key()).isEqualTo(WatchLine.Verdict.CLAIM_HOLDS);
      assertThat(check.remarks()).contains(new LaterLotCheck.Remark.MeasuredAsKits());
      assertThat(check(result, shifted).levels().get(0).judgement().verdict())
          .isEqualTo(WatchLine.Verdict.HOLD_THE_LOT);
    }
  }

  @Test
  void figuresOfOtherFormsHaveLimitsOfTheSameForm() {
    ClaimForm share = new ClaimForm.OfReading(0.004, 10);
    ProductionTest.Finished ofReading =
        (ProductionTest.Finished)
            limits(rotation(ClaimRequest.Subject.KIT, share), false).levels().get(0).finished();
    assertThat(ofReading.acceptGrams()).isPositive();
    StudyResult result =
        rotation(ClaimRequest.Subject.KIT, new ClaimForm.OneSided(ClaimForm.Side.BELOW));
    ProductionLimits.LevelLimits below = limits(result, false).levels().get(0);
    ProductionTest.Finished test = (ProductionTest.Finished) below.finished();
    assertThat(test.acceptGrams()).isPositive().isLessThan(below.figureGrams());
    long notTooLow =
        result.asDecided().claims().get(0).curves().stream()
            .filter(c -> c.points().stream().allMatch(p -> p.errorGrams() >= -test.acceptGrams()))
            .count();
    assertThat(test.expected().passed()).isEqualTo((int) notTooLow);
    assertThat(below.jig()).isInstanceOf(ProductionTest.class);
  }
}
