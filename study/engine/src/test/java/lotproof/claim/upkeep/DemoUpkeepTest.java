package lotproof.claim.upkeep;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.nio.file.Path;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import lotproof.claim.FigureChange;
import lotproof.claim.StudyAnalysis;
import lotproof.claim.StudyResult;
import lotproof.folder.StudyContents;
import lotproof.folder.StudyFolder;
import lotproof.review.Finding;
import lotproof.study.Characteristic;
import lotproof.study.Decision;
import lotproof.study.Reading;
import lotproof.study.UnitKind;
import lotproof.study.WatchLine;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;

/** Moves, limits and later lots on the demo study. */
@Tag("slow")
class DemoUpkeepTest {
  private static final Path DEMO = Path.of("..", "..", "demo-data", "hive-scale");

  private static StudyContents contents;
  private static StudyResult result;

  @BeforeAll
  static void analyse() {
    contents = StudyFolder.at(DEMO).open().get();
    result = new StudyAnalysis(contents.study()).analyse(contents.readings(), contents.decisions());
  }

  @Test
  void thePartsOfAMoveAddUpToIt() {
    assertThat(result.changes()).hasSize(3);
    for (FigureChange change : result.changes()) {
      double sum = change.parts().stream().mapToDouble(FigureChange.Part::moveGrams).sum();
      double bound = change.moveGrams().getAsDouble();
      assertThat(sum).as(change.level().key()).isCloseTo(bound, within(1e-6));
    }
  }

  /** At level none the exclusions make the figure larger, because estimation gets less certain. */
  @Test
  void aMoveAgainstExpectationIsExplainedInNumbers() {
    FigureChange none = result.changes().get(0);
    assertThat(none.after().figureGrams().getAsDouble())
        .isGreaterThan(none.before().figureGrams().getAsDouble());
    FigureChange.Part largest =
        none.parts().stream()
            .max(Comparator.comparingDouble(FigureChange.Part::moveGrams))
            .orElseThrow();
    assertThat(largest.cause()).isEqualTo(FigureChange.Cause.UNCERTAINTY);
    assertThat(none.removed().get(0).largestGrams())
        .isLessThan(none.before().limitGrams().getAsDouble());
    assertThat(none.removed()).hasSize(4);
  }

  @Test
  void crossedRunsNameTheBoardAndTheCell() {
    assertThat(result.findings())
        .anySatisfy(
            f -> {
              assertThat(f.characteristic()).isEqualTo(Characteristic.NOISE);
              assertThat(f.verdict().odd()).isEqualTo(Finding.Odd.BOARD);
              assertThat(f.favourable()).isFalse();
              assertThat(f.signs()).isNotEmpty();
            });
    assertThat(result.findings())
        .anySatisfy(
            f -> {
              assertThat(f.characteristic()).isEqualTo(Characteristic.ZERO);
              assertThat(f.verdict().odd()).isEqualTo(Finding.Odd.CELL);
              assertThat(f.target()).isEqualTo(Decision.Target.RUN);
              assertThat(f.verdict().shown()).isNotEmpty();
            });
  }

  @Test
  void limitsProtectTheWantedFigures() {
    ProductionLimits limits = ProductionLimits.of(result, LimitOptions.defaults(0.95));
    assertThat(limits.levels()).hasSize(3);
    for (ProductionLimits.LevelLimits level : limits.levels()) {
      assertThat(level.typicalGrams()).isLessThan(level.characterisedGrams());
      ProductionTest.Finished pair = (ProductionTest.Finished) level.finished();
      assertThat(pair.acceptGrams()).isPositive().isLessThan(level.figureGrams());
      assertThat(level.jig()).isInstanceOf(ProductionTest.OnJig.class);
    }
  }

  /** Kits of the study under serials of their own, with another gain. */
  private static List<Reading> later(double gain) {
    return contents.readings().stream()
        .filter(r -> r.cell().startsWith("C1") && r.run().compareTo("S05") < 0)
        .map(
            r ->
                new Reading(
                    r.session(),
                    r.time(),
                    r.run(),
                    r.step(),
                    "N" + r.cell(),
                    "N" + r.board(),
                    r.loadKilograms(),
                    gain * r.outputCounts(),
                    r.beside(),
                    r.source(),
                    0))
        .toList();
  }

  @Test
  void aLotLikeTheStudyHoldsAndAShiftedOneIsHeldBack() {
    LaterLotCalculator.Outcome.Checked like =
        (LaterLotCalculator.Outcome.Checked) LaterLotCalculator.of(result, later(1), Map.of());
    assertThat(like.check().verdict()).isEqualTo(WatchLine.Verdict.CLAIM_HOLDS);
    assertThat(like.check().levels()).hasSize(3);
    LaterLotCalculator.Outcome.Checked shifted =
        (LaterLotCalculator.Outcome.Checked) LaterLotCalculator.of(result, later(1.03), Map.of());
    assertThat(shifted.check().verdict()).isEqualTo(WatchLine.Verdict.HOLD_THE_LOT);
    assertThat(shifted.check().levels().get(1).judgement().verdict())
        .as("a calibrated kit does not see the gain")
        .isEqualTo(WatchLine.Verdict.CLAIM_HOLDS);
  }

  @Test
  void anIssuedFigureCountsInsteadOfThePresentOne() {
    LaterLotCalculator.Outcome.Checked strict =
        (LaterLotCalculator.Outcome.Checked)
            LaterLotCalculator.of(result, later(1), Map.of("one-point (20 kg)", 5.0));
    LaterLotCheck.LevelCheck level = strict.check().levels().get(1);
    assertThat(level.figureGrams()).isEqualTo(5);
    assertThat(level.judgement().verdict()).isEqualTo(WatchLine.Verdict.HOLD_THE_LOT);
  }

  @Test
  void theSplitClaimIsWiderInFigureAndSmallerInContent() {
    SplitClaim split =
        SplitClaim.of(
            contents.study(),
            contents.readings(),
            contents.decisions(),
            java.util.Set.of("C3-0169"),
            java.util.Set.of());
    assertThat(split.partConfidence()).isCloseTo(0.975, within(1e-12));
    double upper = SplitClaim.upperFraction(1, 49, 0.975);
    assertThat(split.contentFraction()).isCloseTo((1 - upper) * 0.95, within(1e-12));
    assertThat(split.shares())
        .containsExactly(new SplitClaim.BadShare(UnitKind.CELL, 1, 49, upper));
  }
}
