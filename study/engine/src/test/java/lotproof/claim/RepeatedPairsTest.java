package lotproof.claim;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import lotproof.claim.upkeep.LimitOptions;
import lotproof.claim.upkeep.ProductionLimits;
import lotproof.claim.upkeep.ProductionTest;
import lotproof.claim.upkeep.ProductionTest.CannotProtect;
import lotproof.claim.upkeep.ProductionTest.Why.RepeatabilityNotKnown;
import lotproof.claim.upkeep.Repeatability;
import lotproof.reduce.ReducedRun;
import lotproof.study.CalibrationLevel;
import lotproof.study.ClaimForm;
import lotproof.study.ClaimRequest;
import lotproof.study.Design;
import lotproof.study.MassClass;
import lotproof.study.Reading;
import lotproof.study.UnitKind;
import org.junit.jupiter.api.Test;

/** What a production test can promise where few pairs, or none, were measured again. */
class RepeatedPairsTest {
  private static final int UNITS = 14;

  private final InventedKits kits = new InventedKits(8, 1, 0);
  private final List<InventedKits.Unit> cells = kits.units(UnitKind.CELL, UNITS);
  private final List<InventedKits.Unit> boards = kits.units(UnitKind.BOARD, UNITS);

  /** Each cell with so many boards in turn; the first kits again. */
  private StudyResult rotation(int partners, int again) {
    List<Reading> readings = new ArrayList<>();
    for (int pass = 0; pass < partners; pass++) {
      for (int i = 0; i < UNITS; i++) {
        InventedKits.Unit board = boards.get((i + pass) % UNITS);
        add(readings, kits.run("r" + pass + "-" + i, cells.get(i), board));
      }
    }
    for (int i = 0; i < again; i++) {
      add(readings, kits.run("again-" + i, cells.get(i), boards.get(i)));
    }
    ClaimRequest claim =
        new ClaimRequest(
            0.95,
            0.95,
            1,
            new ClaimForm.Symmetric(),
            ClaimRequest.Subject.KIT,
            OptionalDouble.empty(),
            List.of(
                new ClaimRequest.LevelRequest(
                    new CalibrationLevel.Calibrated(List.of(20.0), MassClass.M1),
                    OptionalDouble.empty())));
    return new StudyAnalysis(
            InventedKits.study(
                kits.lotsOf(UnitKind.CELL, cells),
                kits.lotsOf(UnitKind.BOARD, boards),
                new Design(
                    Design.Kind.ROTATION,
                    InventedKits.LOADS,
                    List.of(),
                    Optional.empty(),
                    List.of(),
                    Design.Pairing.RANDOM),
                claim,
                MassClass.F2))
        .analyse(readings, List.of());
  }

  private static void add(List<Reading> readings, ReducedRun run) {
    readings.addAll(run.run().readings());
  }

  private static ProductionLimits.LevelLimits level(StudyResult result) {
    return ProductionLimits.ofAllLoads(result).levels().get(0);
  }

  /** A closed ring of n cells and n boards has 2 n runs and 2 n - 1 differences of units. */
  @Test
  void degreesOfFreedomAreWhatUnitsLeave() {
    assertThat(level(rotation(2, 0)).repeatability()).isEqualTo(new Repeatability(1, true));
    assertThat(level(rotation(2, 3)).repeatability()).isEqualTo(new Repeatability(4, true));
    assertThat(level(rotation(3, 0)).repeatability()).isEqualTo(new Repeatability(UNITS + 1, true));
    assertThat(level(rotation(2, 11)).repeatability()).isEqualTo(new Repeatability(11, false));
    // each kit apart: the repeats alone
    assertThat(level(rotation(1, 1)).repeatability()).isEqualTo(new Repeatability(1, false));
    assertThat(level(rotation(1, 0)).repeatability()).isEqualTo(new Repeatability(0, true));
  }

  @Test
  void nothingIsGuaranteedByATestThatNobodyKnowsToRepeat() {
    for (StudyResult result : List.of(rotation(2, 0), rotation(2, 3), rotation(1, 9))) {
      ProductionLimits.LevelLimits level = level(result);
      assertThat(level.isProtected()).isFalse();
      int degrees = level.repeatability().degreesOfFreedom();
      assertThat(level.finished())
          .isEqualTo(new CannotProtect(new RepeatabilityNotKnown(degrees, 10)));
      assertThat(level.jig()).isInstanceOf(CannotProtect.class);
    }
  }

  @Test
  void enoughRepeatsOrAStatedUncertaintyGuaranteeIt() {
    assertThat(level(rotation(2, 10)).finished()).isInstanceOf(ProductionTest.Finished.class);
    assertThat(level(rotation(3, 0)).jig()).isInstanceOf(ProductionTest.OnJig.class);
    LimitOptions stated =
        new LimitOptions(Map.of(), List.of(), true, OptionalDouble.of(0.5), false, 0.95);
    ProductionLimits.LevelLimits level =
        ProductionLimits.of(rotation(2, 3), stated).levels().get(0);
    assertThat(level.isProtected()).isTrue();
    assertThat(level.repeatability().isKnown()).isFalse();
  }
}
