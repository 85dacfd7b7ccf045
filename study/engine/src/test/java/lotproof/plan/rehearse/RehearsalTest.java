package lotproof.plan.rehearse;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.concurrent.atomic.AtomicInteger;
import lotproof.model.Role;
import lotproof.plan.design.DesignKind;
import lotproof.plan.design.Invented;
import lotproof.plan.design.Layout;
import lotproof.plan.design.Layout.Meeting;
import lotproof.study.Assumed;
import lotproof.study.BenchTimes;
import lotproof.study.Design;
import lotproof.study.Units;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;

class RehearsalTest {
  private static final Assumed.AtLevel NO_LOTS =
      new Assumed.AtLevel("assumed", "none", 20, 200, 100, 20, 40, 0, 0);
  private static final PlannedClaim EASY =
      new PlannedClaim(0.95, 0.95, 0, 1e-6, OptionalDouble.of(600));

  private static Rehearsal.Planned planned(
      Layout layout, Assumed.AtLevel assumed, PlannedClaim question) {
    return new Rehearsal.Planned(
        layout, Optional.empty(), AssumedCurves.atOneLoad(assumed), question);
  }

  private static RehearsalResult rehearsed(
      Layout layout, Assumed.AtLevel assumed, PlannedClaim question, int times, int threads) {
    Rehearsal.Outcome outcome =
        Rehearsal.of(
            planned(layout, assumed, question),
            new Rehearsal.Options(times, 77, threads),
            done -> {});
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

  private static Rehearsal.Planned onReferences(
      Units units, Assumed.AtLevel assumed, PlannedClaim question, boolean dummy) {
    Design.ReferencePartners partners =
        new Design.ReferencePartners("reference cell", "reference board", dummy);
    return new Rehearsal.Planned(
        Layout.onReferences(units, partners),
        Optional.of(partners),
        AssumedCurves.atOneLoad(assumed),
        question);
  }

  private static RehearsalResult rehearsed(Rehearsal.Planned planned, int times, int threads) {
    return ((Rehearsal.Outcome.Rehearsed)
            Rehearsal.of(planned, new Rehearsal.Options(times, 78, threads), done -> {}))
        .result();
  }

  /**
   * Simulated confidence of sums of halves at 20 + 20 units: 0.978 about zero, by the model alone
   * (study notes on designs, design a); bench error counts twice, so it errs on the safe side.
   */
  @Test
  void virtualKitsHoldAsOftenAsTheirConfidenceSays() {
    Assumed.AtLevel spread = new Assumed.AtLevel("assumed", "none", 0, 100, 50, 10, 20, 0, 0);
    Rehearsal.Planned planned = onReferences(Invented.units(1, 20), spread, EASY, false);
    RehearsalResult result = rehearsed(planned, 2000, 2);
    double error = Math.sqrt(0.95 * 0.05 / 2000);
    assertThat(result.holdsFraction()).as("seed 78").isGreaterThan(0.95 - 4 * error);
    assertThat(result.withoutFigure()).isZero();
    assertThat(rehearsed(planned, 150, 3)).isEqualTo(rehearsed(planned, 150, 1));
    // kits tested themselves need no room for the references and the bench counted twice
    Layout pairs = Layout.of(DesignKind.ROTATION_2, Invented.units(1, 20), 1);
    assertThat(result.trueFigureGrams())
        .isCloseTo(rehearsed(pairs, spread, EASY, 10, 1).trueFigureGrams(), within(0.01));
  }

  @Test
  void aDummyBridgeHidesWhatPairingDoesToBoards() {
    Assumed.AtLevel paired = new Assumed.AtLevel("assumed", "none", 0, 50, 50, 100, 20, 0, 0);
    Units units = Invented.units(1, 15);
    double seen = rehearsed(onReferences(units, paired, EASY, false), 300, 2).medianGrams();
    double hidden = rehearsed(onReferences(units, paired, EASY, true), 300, 2).medianGrams();
    assertThat(hidden).isLessThan(0.95 * seen);
  }

  @Test
  void referencesThatMetOnceSupportNoFigure() {
    Rehearsal.Planned planned = onReferences(Invented.units(1, 6), NO_LOTS, EASY, false);
    List<Meeting> meetings = planned.layout().meetings();
    Layout once =
        new Layout(
            planned.layout().units(),
            meetings.subList(0, meetings.size() - Layout.REFERENCE_RUNS + 1));
    Rehearsal.Outcome outcome =
        Rehearsal.of(
            new Rehearsal.Planned(once, planned.partners(), planned.curves(), EASY),
            new Rehearsal.Options(10, 1, 1),
            done -> {});
    assertThat(((Rehearsal.Outcome.Not) outcome).reason()).contains("twice");
  }

  @Test
  void theNumberOfThreadsChangesNothing() {
    Layout layout = Layout.of(DesignKind.ROTATION_2_REPEATS, Invented.units(2, 6), 1);
    Assumed.AtLevel lots = new Assumed.AtLevel("assumed", "none", 0, 200, 100, 20, 40, 0.2, 0.3);
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
        Rehearsal.of(
            planned(layout, NO_LOTS, EASY), new Rehearsal.Options(101, 1, 2), done::addAndGet);
    assertThat(done).hasValue(101);
  }

  @Test
  void theComparisonRecommendsWhatTellsCellsFromBoardsAndFits() {
    DesignComparison.Start start =
        new DesignComparison.Start(
            Invented.units(5, 4),
            new Assumed.AtLevel("assumed", "none", 0, 200, 100, 0, 20, 0.1, 0.1),
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
            .filter(d -> d.design() == comparison.advice().design())
            .findFirst()
            .orElseThrow();
    assertThat(advised.effort().benchHours()).isLessThanOrEqualTo(26);
    assertThat(advised.precision().components())
        .extracting(DesignAssessment.ComponentPrecision::role)
        .contains(Role.CELL, Role.BOARD);
    assertThat(comparison.advice().tellsCellsFromBoards()).isTrue();
    assertThat(comparison.advice().warnings())
        .hasAtLeastOneElementOfType(Advice.Warning.LeansOnNormality.class);
  }

  @Test
  void aQuestionThatCannotBeIsRefused() {
    assertThatThrownBy(() -> new PlannedClaim(95, 0.95, 0, 1, OptionalDouble.empty()))
        .hasMessageContaining("content");
    assertThatThrownBy(() -> new PlannedClaim(0.95, 0.95, Double.NaN, 1, OptionalDouble.empty()))
        .hasMessageContaining("guard");
    assertThatThrownBy(() -> new Assumed.AtLevel("x", "none", 0, 1, 1, 1, 1, 1.5, 0))
        .hasMessageContaining("lot share");
  }
}
