package lotproof.plan.rehearse;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;
import java.util.concurrent.atomic.AtomicInteger;
import lotproof.plan.design.DesignKind;
import lotproof.plan.design.Invented;
import lotproof.plan.design.Layout;
import lotproof.plan.design.Meeting;
import lotproof.plan.design.UnitsAtHand;
import lotproof.spread.FactorPlan;
import lotproof.spread.MeasuredValues;
import lotproof.spread.Role;
import lotproof.study.AssumedSpread;
import lotproof.study.BenchTimes;
import lotproof.study.UnitKind;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

class RehearsalTest {
  private static final AssumedSpread NO_LOTS =
      new AssumedSpread("assumed", 20, 200, 100, 20, 40, 0, 0);
  private static final PlannedClaim EASY =
      new PlannedClaim(0.95, 0.95, 0, 1e-6, OptionalDouble.of(600));

  private static RehearsalResult rehearsed(
      Layout layout, AssumedSpread assumed, PlannedClaim question, int times, int threads) {
    Rehearsal.Outcome outcome =
        Rehearsal.of(
            layout, assumed, question, new Rehearsal.Options(times, 77, threads), done -> {});
    return ((Rehearsal.Outcome.Rehearsed) outcome).result();
  }

  @Test
  void theSafestFigureHoldsAsOftenAsItsConfidenceSays() {
    // kits of one lot each and no distribution-free share: with n = 12 the model decides alone
    Layout layout = Layout.of(DesignKind.DISJOINT_PAIRS, Invented.units(1, 12), 1);
    RehearsalResult result = rehearsed(layout, NO_LOTS, EASY, 2000, 2);
    double error = Math.sqrt(0.95 * 0.05 / 2000);
    assertThat(result.holdsFraction()).as("seed 77").isBetween(0.95 - 4 * error, 0.985);
    assertThat(result.withoutFigure()).isZero();
  }

  @Test
  @Tag("slow")
  void aRotationHoldsAsOftenAsItsConfidenceSays() {
    Layout layout = Layout.of(DesignKind.ROTATION_2, Invented.units(1, 30), 1);
    RehearsalResult result = rehearsed(layout, NO_LOTS, EASY, 4000, 2);
    double error = Math.sqrt(0.95 * 0.05 / 4000);
    assertThat(result.holdsFraction()).as("seed 77").isGreaterThan(0.95 - 4 * error);
  }

  @Test
  void theNumberOfThreadsChangesNothing() {
    Layout layout = Layout.of(DesignKind.ROTATION_2_REPEATS, Invented.units(2, 6), 1);
    AssumedSpread lots = new AssumedSpread("assumed", 0, 200, 100, 20, 40, 0.2, 0.3);
    RehearsalResult one = rehearsed(layout, lots, EASY, 150, 1);
    assertThat(rehearsed(layout, lots, EASY, 150, 3)).isEqualTo(one);
  }

  @Test
  void aFigureThatHoldsForTooFewIsRarelySupported() {
    Layout layout = Layout.of(DesignKind.DISJOINT_PAIRS, Invented.units(1, 20), 1);
    double total = Math.sqrt(200 * 200 + 100 * 100 + 20 * 20 + 40 * 40);
    PlannedClaim tooNarrow = new PlannedClaim(0.95, 0.95, 0, 1e-6, OptionalDouble.of(1.9 * total));
    RehearsalResult.Wanted wanted =
        rehearsed(layout, NO_LOTS, tooNarrow, 1000, 2).wanted().orElseThrow();
    assertThat(wanted.trueContent()).isLessThan(0.95);
    assertThat(wanted.wronglyFraction()).isEqualTo(wanted.supportedFraction());
    assertThat(wanted.wronglyFraction()).isLessThan(0.05 + 4 * wanted.standardError());
    PlannedClaim wide = new PlannedClaim(0.95, 0.95, 0, 1e-6, OptionalDouble.of(6 * total));
    assertThat(rehearsed(layout, NO_LOTS, wide, 200, 2).wanted().orElseThrow().supportedFraction())
        .isGreaterThan(0.95);
  }

  @Test
  void massesAndRoundingWidenTheFigure() {
    Layout layout = Layout.of(DesignKind.DISJOINT_PAIRS, Invented.units(1, 10), 1);
    RehearsalResult bare = rehearsed(layout, NO_LOTS, EASY, 100, 1);
    PlannedClaim guarded = new PlannedClaim(0.95, 0.95, 7, 5, OptionalDouble.empty());
    RehearsalResult wider = rehearsed(layout, NO_LOTS, guarded, 100, 1);
    assertThat(wider.medianGrams()).isBetween(bare.medianGrams() + 7, bare.medianGrams() + 12.001);
    assertThat(wider.medianGrams() % 5).isCloseTo(0, within(1e-9));
    assertThat(wider.wanted()).isEmpty();
  }

  @Test
  void progressIsReportedWhole() {
    AtomicInteger done = new AtomicInteger();
    Layout layout = Layout.of(DesignKind.DISJOINT_PAIRS, Invented.units(1, 6), 1);
    var unused =
        Rehearsal.of(layout, NO_LOTS, EASY, new Rehearsal.Options(101, 1, 2), done::addAndGet);
    assertThat(done).hasValue(101);
  }

  @ParameterizedTest
  @EnumSource(mode = EnumSource.Mode.EXCLUDE, names = "REFERENCE_PARTNER")
  void factorsAreThoseOfTheAnalysis(DesignKind kind) {
    for (UnitsAtHand units : List.of(Invented.units(1, 20), Invented.units(4, 7))) {
      Layout layout = Layout.of(kind, units, 3);
      Map<Role, List<String>> labels = new EnumMap<>(Role.class);
      int[] cellLot = units.lotOf(UnitKind.CELL);
      int[] boardLot = units.lotOf(UnitKind.BOARD);
      labels.put(Role.CELL, layout.meetings().stream().map(m -> "c" + m.cell()).toList());
      labels.put(Role.BOARD, layout.meetings().stream().map(m -> "b" + m.board()).toList());
      labels.put(
          Role.CELL_LOT, layout.meetings().stream().map(m -> "l" + cellLot[m.cell()]).toList());
      labels.put(
          Role.BOARD_LOT, layout.meetings().stream().map(m -> "m" + boardLot[m.board()]).toList());
      List<Double> values =
          layout.meetings().stream().map((Meeting m) -> m.cell() + 0.5 * m.board()).toList();
      FactorPlan plan = FactorPlan.of(new MeasuredValues("x", "X", "g", values, labels));
      assertThat(new LayoutModel(layout, NO_LOTS, true).finestFirst())
          .as("%s", kind)
          .isEqualTo(plan.finestFirst());
    }
  }

  @Test
  void theComparisonRecommendsWhatTellsCellsFromBoardsAndFits() {
    DesignComparison.Start start =
        new DesignComparison.Start(
            Invented.units(5, 4),
            new AssumedSpread("assumed", 0, 200, 100, 0, 20, 0.1, 0.1),
            new PlannedClaim(0.95, 0.95, 1, 1, OptionalDouble.empty()),
            new BenchTimes(8, 12, 30, 7),
            OptionalDouble.of(26),
            1,
            2);
    DesignComparison comparison = DesignComparison.of(start, done -> {});
    assertThat(comparison.kitsForDistributionFree()).isEqualTo(59);
    assertThat(comparison.designs()).hasSize(DesignKind.values().length);
    DesignAssessment advised =
        comparison.designs().stream()
            .filter(d -> d.design().equals(comparison.advice().design()))
            .findFirst()
            .orElseThrow();
    assertThat(advised.benchHours()).isLessThanOrEqualTo(26);
    assertThat(advised.components())
        .extracting(DesignAssessment.ComponentPrecision::component)
        .contains("cell", "board");
    assertThat(comparison.advice().reasons()).isNotEmpty();
    assertThat(comparison.advice().warnings())
        .anySatisfy(warning -> assertThat(warning).contains("share no unit"));
  }

  @Test
  void aQuestionThatCannotBeIsRefused() {
    assertThatThrownBy(() -> new PlannedClaim(95, 0.95, 0, 1, OptionalDouble.empty()))
        .hasMessageContaining("content");
    assertThatThrownBy(() -> new PlannedClaim(0.95, 0.95, Double.NaN, 1, OptionalDouble.empty()))
        .hasMessageContaining("guard");
    assertThatThrownBy(() -> new AssumedSpread("x", 0, 1, 1, 1, 1, 1.5, 0))
        .hasMessageContaining("lot share");
  }
}
