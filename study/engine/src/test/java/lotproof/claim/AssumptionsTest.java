package lotproof.claim;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.Optional;
import lotproof.claim.evidence.GuardBands;
import lotproof.claim.evidence.Refusal;
import lotproof.claim.premise.Assumption;
import lotproof.claim.premise.Assumption.Drift;
import lotproof.claim.premise.Assumption.Effect;
import lotproof.claim.premise.Assumption.LotsAndDays;
import lotproof.claim.premise.Assumption.MatchedKits;
import lotproof.claim.premise.Assumption.NotNormal;
import lotproof.claim.premise.Assumption.PairingNotStated;
import lotproof.claim.premise.Assumption.PartnersGoTogether;
import lotproof.claim.premise.Assumption.RestsOnShape;
import lotproof.claim.premise.Assumption.RunsMissing;
import lotproof.claim.premise.NormalShape;
import lotproof.study.Characteristic;
import lotproof.study.Decision;
import lotproof.study.Design.Pairing;
import lotproof.study.Reading;
import lotproof.study.UnitKind;
import org.junit.jupiter.api.Test;

/** What a figure assumes: detected where it is not so, silent where it is. */
class AssumptionsTest {
  private static AssumingStudies of(int units, int lots) {
    return new AssumingStudies(20261130, units, lots, lots > 1 ? 0.7 : 0, 2.5);
  }

  private static <T extends Assumption> Optional<T> found(LevelClaim claim, Class<T> kind) {
    return claim.assumptions().stream().filter(kind::isInstance).map(kind::cast).findFirst();
  }

  /** Without what rests on the normal shape, which follows from the numbers of units and lots. */
  private static List<Assumption> beyondShape(LevelClaim claim) {
    return claim.assumptions().stream().filter(a -> !(a instanceof RestsOnShape)).toList();
  }

  private static LevelClaim ofShape(InventedKits.Shape shape, int units, int lots) {
    InventedKits kits = new InventedKits(20261204, lots, lots > 1 ? 0.7 : 0, shape);
    return new AssumingStudies(20261204, units, kits, 1).passes(2, 20, c -> 0).ofShapeAlone();
  }

  @Test
  void fewUnitsAndFewLotsSayWhatTheySupportWithoutAShape() {
    RestsOnShape few =
        found(ofShape(InventedKits.Shape.NORMAL, 12, 1), RestsOnShape.class).orElseThrow();
    assertThat(few.effect()).isEqualTo(Effect.CONDITION);
    assertThat(few.kits().orElseThrow().count()).isEqualTo(12);
    assertThat(few.kits().orElseThrow().contentFraction())
        .isCloseTo(Math.pow(0.05, 1.0 / 12), within(1e-12));
    assertThat(few.lots()).isEmpty();
    RestsOnShape lots =
        found(ofShape(InventedKits.Shape.NORMAL, 60, 5), RestsOnShape.class).orElseThrow();
    assertThat(lots.kits()).isEmpty();
    assertThat(lots.lots().orElseThrow().contentFraction())
        .isCloseTo(Math.pow(0.05, 0.2), within(1e-12));
    assertThat(ofShape(InventedKits.Shape.NORMAL, 60, 1).assumptions()).isEmpty();
  }

  @Test
  void errorsThatAreNotNormalLeaveAFigureOnlyWhereKitsSupportIt() {
    LevelClaim few = ofShape(InventedKits.Shape.MINORITY, 50, 1);
    NotNormal stopped = found(few, NotNormal.class).orElseThrow();
    assertThat(few.outcome()).isEqualTo(new LevelOutcome.NoFigure(new Refusal.Assumed(stopped)));
    assertThat(stopped.chance()).isLessThanOrEqualTo(NormalShape.LEVEL);
    assertThat(stopped.kits().count()).isEqualTo(50);
    assertThat(stopped.neededKits()).isEqualTo(59);
    LevelClaim enough = ofShape(InventedKits.Shape.MINORITY, 60, 1);
    assertThat(found(enough, NotNormal.class).orElseThrow().effect()).isEqualTo(Effect.SHOWN);
    assertThat(enough.figure().orElseThrow().tested().contentFraction()).isGreaterThan(0.95);
  }

  @Test
  void aCleanStudyWithAPlanHasNothingToSay() {
    List<LevelClaim> claims =
        of(24, 3).passes(2, 8, c -> 0).planned().stating(Pairing.RANDOM).claims();
    assertThat(claims).allSatisfy(claim -> assertThat(beyondShape(claim)).isEmpty());
    assertThat(claims).allSatisfy(claim -> assertThat(claim.figure()).isPresent());
    assertThat(claims.get(0).coverage().plannedRuns()).hasValue(48);
    assertThat(claims.get(0).coverage().complete()).isTrue();
  }

  @Test
  void matchedPairsInARotationAreFound() {
    List<LevelClaim> claims =
        of(30, 1).matched().passes(2, 20, c -> 0).stating(Pairing.RANDOM).claims();
    assertThat(claims.get(0).figure()).isEmpty();
    PartnersGoTogether sign = found(claims.get(0), PartnersGoTogether.class).orElseThrow();
    assertThat(sign.effect()).isEqualTo(Effect.NO_FIGURE);
    assertThat(sign.characteristic()).isEqualTo(Characteristic.SENSITIVITY);
    assertThat(sign.correlation()).isLessThan(-0.8);
    assertThat(sign.kits()).isEqualTo(30);
    assertThat(claims.get(0).outcome())
        .isEqualTo(new LevelOutcome.NoFigure(new Refusal.Assumed(sign)));
  }

  @Test
  void theClaimForMatchedKitsIsForThoseAlone() {
    AssumingStudies study = of(60, 1).matched();
    double truth = study.truthOfThesePairs()[0];
    double anyPair = AssumingStudies.truth(0, 2.5, 4000)[0];
    LevelClaim claim =
        study.passes(2, 20, c -> 0).planned().stating(Pairing.MATCHED).claims().get(0);
    LevelOutcome.Figure figure = claim.figure().orElseThrow();
    assertThat(found(claim, MatchedKits.class).orElseThrow().kits()).isEqualTo(60);
    assertThat(figure.tested().kits()).isEqualTo(60);
    assertThat(figure.tested().disjointKits()).isEqualTo(60);
    assertThat(figure.limitGrams()).isGreaterThan(truth).isLessThan(anyPair / 2);
  }

  @Test
  void whereNothingIsStatedTheClaimSaysWhatItAssumes() {
    for (int passes : new int[] {1, 2}) {
      LevelClaim claim = of(20, 1).passes(passes, 20, c -> 0).claims().get(0);
      PairingNotStated condition = found(claim, PairingNotStated.class).orElseThrow();
      assertThat(condition.testable()).isEqualTo(passes == 2);
      assertThat(claim.figure()).isPresent();
    }
  }

  @Test
  void aMissingRunStandsInTheClaimAndLeavesTheFigure() {
    LevelClaim whole =
        of(30, 1).passes(2, 20, c -> 0).planned().stating(Pairing.RANDOM).claims().get(0);
    LevelClaim claim =
        of(30, 1)
            .passes(2, 20, c -> 0)
            .planned()
            .stating(Pairing.RANDOM)
            .without(1, true)
            .claims()
            .get(0);
    RunsMissing missing = found(claim, RunsMissing.class).orElseThrow();
    assertThat(missing.effect()).isEqualTo(Effect.SHOWN);
    assertThat(missing.runs()).isEqualTo(1);
    double like = missing.likeWorstGrams().orElseThrow();
    assertThat(like).isGreaterThanOrEqualTo(claim.figure().orElseThrow().printableGrams());
    assertThat(whole.figure()).isPresent();
    assertThat(claim.coverage().missingRunCount()).isEqualTo(1);
    assertThat(claim.coverage().measuredRuns()).isEqualTo(59);
    assertThat(claim.coverage().countedRuns()).isEqualTo(59);
  }

  @Test
  void tooMuchMissingLeavesNoFigure() {
    for (boolean bySize : new boolean[] {true, false}) {
      LevelClaim claim =
          of(24, 1).passes(2, 20, c -> 0).planned().without(5, bySize).claims().get(0);
      assertThat(claim.figure()).isEmpty();
      assertThat(claim.coverage().plannedRuns()).hasValue(48);
      assertThat(claim.coverage().measuredRuns()).isEqualTo(43);
      assertThat(found(claim, RunsMissing.class).orElseThrow().effect())
          .isEqualTo(Effect.NO_FIGURE);
    }
  }

  @Test
  void unitsOfLotsThatWereNeverMeasuredAreMissingWithoutAPlanToo() {
    // one pass and no plan: a run less is a cell and a board less
    LevelClaim one = of(50, 1).passes(1, 20, c -> 0).without(1, true).claims().get(0);
    assertThat(one.coverage().plannedRuns()).isEmpty();
    assertThat(one.coverage().missingUnits()).hasSize(2);
    assertThat(one.figure()).isPresent();
    RunsMissing missing = found(one, RunsMissing.class).orElseThrow();
    assertThat(missing.likeWorstGrams().orElseThrow())
        .isGreaterThanOrEqualTo(one.figure().orElseThrow().printableGrams());
    Decision lost = excluded(Decision.Target.CELL, one.coverage().missingUnits().get(0).serial());
    AssumingStudies same = of(50, 1).passes(1, 20, c -> 0).without(1, true);
    LevelClaim decided =
        new StudyAnalysis(same.study()).claims(same.readings(), List.of(lost)).get(0);
    assertThat(decided.coverage().missingUnits()).hasSize(1);
    LevelClaim many = of(50, 1).passes(1, 20, c -> 0).without(6, true).claims().get(0);
    assertThat(many.outcome())
        .isEqualTo(
            new LevelOutcome.NoFigure(
                new Refusal.Assumed(found(many, RunsMissing.class).orElseThrow())));
  }

  private static Decision excluded(Decision.Target target, String serial) {
    return new Decision(
        "D1",
        "2026-11-20 10:00",
        "M",
        Decision.Action.EXCLUDED,
        target,
        serial,
        Optional.empty(),
        Optional.empty(),
        "bench damage",
        "fell",
        2);
  }

  @Test
  void aRunThatWasCutShortOrDecidedUponIsNotTheSame() {
    AssumingStudies study = of(24, 1).passes(2, 20, c -> 0).planned().stating(Pairing.RANDOM);
    List<Reading> all = study.readings();
    String cut = all.get(0).run();
    List<Reading> shortened =
        all.stream().filter(r -> !r.run().equals(cut) || r.step() < 6).toList();
    StudyAnalysis analysis = new StudyAnalysis(study.study());
    LevelClaim claim = analysis.claims(shortened, List.of()).get(0);
    assertThat(claim.coverage().missingRuns())
        .singleElement()
        .satisfies(m -> assertThat(m.unusable()).isEqualTo(1));
    Decision decision = excluded(Decision.Target.RUN, cut);
    LevelClaim decided = analysis.claims(shortened, List.of(decision)).get(0);
    assertThat(decided.coverage().complete()).isTrue();
    assertThat(decided.coverage().takenOutRuns()).isEqualTo(1);
    assertThat(beyondShape(decided)).isEmpty();
  }

  @Test
  void aUnitThatBrokeBeforeItWasMeasuredIsExcludedWithItsCause() {
    AssumingStudies study = of(24, 1).passes(2, 20, c -> 0).planned().stating(Pairing.RANDOM);
    String broken = study.readings().get(0).cell();
    List<Reading> others = study.readings().stream().filter(r -> !r.cell().equals(broken)).toList();
    StudyAnalysis analysis = new StudyAnalysis(study.study());
    LevelClaim open = analysis.claims(others, List.of()).get(0);
    assertThat(open.figure()).isEmpty();
    assertThat(open.coverage().missingRunCount()).isEqualTo(2);
    Decision decision = excluded(Decision.Target.CELL, broken);
    LevelClaim decided = analysis.claims(others, List.of(decision)).get(0);
    assertThat(decided.coverage().complete()).isTrue();
    assertThat(decided.figure()).isPresent();
  }

  @Test
  void lotsMeasuredOneAfterTheOtherCannotBeToldFromDays() {
    for (int ofSession : new int[] {10, 1000}) {
      LevelClaim claim =
          of(40, 4).lotByLot().passes(1, ofSession, c -> 0).stating(Pairing.RANDOM).claims().get(0);
      assertThat(claim.figure()).isEmpty();
      LotsAndDays lots = found(claim, LotsAndDays.class).orElseThrow();
      assertThat(lots.kind()).isEqualTo(UnitKind.CELL);
      assertThat(lots.time())
          .isEqualTo(ofSession == 10 ? LotsAndDays.Time.SESSIONS : LotsAndDays.Time.ORDER);
      assertThat(lots.shareFraction()).isGreaterThan(0.9);
      assertThat(reason(claim)).isEqualTo(new Drift.FewCheckRuns(0, 4));
    }
  }

  @Test
  void aCheckStandardBoundsWhatADriftMayHide() {
    AssumingStudies steady = of(40, 4).lotByLot();
    LevelClaim claim =
        steady.passes(1, 10, c -> 0).withCheckStandard().stating(Pairing.RANDOM).claims().get(0);
    LevelOutcome.Figure figure = claim.figure().orElseThrow();
    LotsAndDays lots = found(claim, LotsAndDays.class).orElseThrow();
    assertThat(lots.effect()).isEqualTo(Effect.ALLOWANCE);
    assertThat(figure.guards().of(GuardBands.Kind.DRIFT))
        .isEqualTo(lots.hiddenGrams().orElseThrow())
        .isPositive();
    assertThat(figure.limitGrams())
        .isEqualTo(
            Math.max(figure.modelGrams(), figure.tested().largestGrams())
                + figure.guards().totalGrams());

    AssumingStudies drifting = of(40, 4).lotByLot();
    LevelClaim refused =
        drifting
            .passes(1, 10, drifting.against(1))
            .withCheckStandard()
            .stating(Pairing.RANDOM)
            .claims()
            .get(0);
    assertThat(refused.figure()).isEmpty();
    assertThat(reason(refused)).isInstanceOf(Drift.Bounded.class);
  }

  /** What the check standard says of the lots that leave no figure. */
  private static Drift reason(LevelClaim claim) {
    Refusal why = ((LevelOutcome.NoFigure) claim.outcome()).why();
    return ((LotsAndDays) ((Refusal.Assumed) why).assumption()).drift();
  }

  /** Two lots, check runs at places 0, 3 and 6, runs between them: weights by hand. */
  @Test
  void theBenchAtALotIsTheCheckStandardBetweenItsRuns() {
    double[][] weights =
        LotDrift.contrasts(List.of(List.of(1, 2), List.of(4, 5)), List.of(0, 3, 6));
    // lot 1: (2/3 + 1/3) / 2, (1/3 + 2/3) / 2; lot 2 likewise one check run later
    assertThat(weights[0]).containsExactly(0.25, 0, -0.25);
    assertThat(weights[1]).containsExactly(-0.25, 0, 0.25);
  }
}
