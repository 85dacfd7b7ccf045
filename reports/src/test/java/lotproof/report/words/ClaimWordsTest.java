package lotproof.report.words;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import lotproof.claim.Analysis;
import lotproof.claim.Explanation;
import lotproof.claim.LevelClaim;
import lotproof.claim.LevelOutcome;
import lotproof.claim.LevelOutcome.Remark;
import lotproof.claim.Remedy;
import lotproof.claim.StudyResult;
import lotproof.claim.draft.DraftCheck;
import lotproof.claim.draft.DraftReport;
import lotproof.claim.evidence.GuardBands;
import lotproof.claim.evidence.GuardBands.SideAllowance;
import lotproof.claim.evidence.LotScope;
import lotproof.claim.evidence.Refusal;
import lotproof.claim.evidence.StepTimes;
import lotproof.claim.evidence.TemperatureRange;
import lotproof.claim.premise.Assumption;
import lotproof.claim.premise.Assumption.Drift;
import lotproof.claim.premise.Assumption.Effect;
import lotproof.claim.premise.Assumption.LotsAndDays;
import lotproof.claim.premise.Assumption.Support;
import lotproof.claim.premise.PlanCoverage;
import lotproof.model.FactorPlan;
import lotproof.model.Role;
import lotproof.reduce.Direction;
import lotproof.report.assembly.DemoResult;
import lotproof.study.Characteristic;
import lotproof.study.ClaimForm;
import lotproof.study.ClaimRequest;
import lotproof.study.Decision;
import lotproof.study.Screen;
import lotproof.study.SideTest;
import lotproof.study.Study;
import lotproof.study.UnitKind;
import org.junit.jupiter.api.Test;

/** Claims in words: the demo's own, and findings that the demo does not have. */
class ClaimWordsTest {
  private static final StudyResult DEMO = DemoResult.get();
  private static final LevelClaim NONE = DEMO.asDecided().claims().get(0);
  private static final LevelClaim ONE_POINT = DEMO.asDecided().claims().get(1);
  private static final ClaimWords WORDS = new ClaimWords(DEMO);
  private static final PlanCoverage CLEAN =
      new PlanCoverage(OptionalInt.of(48), 43, 43, 0, List.of(), List.of(), Map.of());

  private static Study study(
      ClaimForm form, ClaimRequest.Subject subject, OptionalDouble lotRatio) {
    ClaimRequest claim = DEMO.study().claim();
    return DEMO.study()
        .withClaim(
            new ClaimRequest(
                claim.content(),
                claim.confidence(),
                claim.roundingGrams(),
                form,
                subject,
                lotRatio,
                claim.levels()));
  }

  private static Study study() {
    return study(new ClaimForm.Symmetric(), ClaimRequest.Subject.KIT, OptionalDouble.empty());
  }

  private static LevelClaim with(
      LevelOutcome outcome, PlanCoverage coverage, Assumption... assumptions) {
    return new LevelClaim(
        ONE_POINT.level(),
        ONE_POINT.correction(),
        ONE_POINT.form(),
        outcome,
        Optional.empty(),
        Optional.empty(),
        coverage,
        List.of(assumptions),
        List.of());
  }

  private static LevelClaim with(Assumption... assumptions) {
    return with(ONE_POINT.outcome(), CLEAN, assumptions);
  }

  private static LevelOutcome.Figure figure(GuardBands guards, Remark... remarks) {
    LevelOutcome.Figure f = ONE_POINT.figure().orElseThrow();
    return new LevelOutcome.Figure(
        f.printableGrams(),
        f.limitGrams(),
        f.fractionOfCapacity(),
        f.modelGrams(),
        f.tested(),
        guards,
        OptionalDouble.of(12),
        f.points(),
        f.worstPoint(),
        f.explanation(),
        List.of(remarks));
  }

  private static ClaimWords words(Study study, LotScope... scopes) {
    Analysis a = DEMO.asDecided();
    return new ClaimWords(
        study,
        new Analysis(
            a.runs(),
            a.pairs(),
            a.spreads(),
            List.of(scopes),
            a.temperature(),
            Optional.of(new StepTimes(60, 90, 210)),
            a.jig(),
            a.coverage(),
            a.exchanged(),
            a.claims()),
        List.of());
  }

  @Test
  void sentencesNameTheirConditions() {
    for (LevelClaim claim : DEMO.asDecided().claims()) {
      assertThat(WORDS.sentence(claim))
          .startsWith("Reading error within ±")
          .contains(
              claim.level().description(),
              "At least 95 % of kits of any such cell with any such board",
              "95 % confidence",
              "at loads from 0 to 50 kg, tested at 0, 5, 20, 35 and 50 kg, rising and falling")
          .contains("°C", "cells from 5 lots", "boards from 5 lots");
    }
  }

  @Test
  void sentencesNameWhatWasExcludedAndWhy() {
    String sentence = WORDS.sentence(NONE);
    DEMO.excluded()
        .forEach(
            e -> {
              Decision d = e.decision();
              assertThat(sentence)
                  .contains(
                      Screen.of(d).map(Screen::words).orElse(d.serial() + " (" + d.cause() + ")"));
            });
    assertThat(sentence).contains("Requires a test of every board before it ships");
    assertThat(words(study(), DEMO.asDecided().scopes().get(0)).sentence(NONE))
        .doesNotContain("Excluded by decision")
        .doesNotContain("Requires a test");
  }

  @Test
  void theProgramsOwnSentencePassesItsOwnCheck() {
    for (LevelClaim claim : DEMO.asDecided().claims()) {
      String sentence = WORDS.sentence(claim);
      assertThat(DraftCheck.of(DEMO, sentence).findings())
          .as(sentence)
          .noneMatch(f -> f.problem().kind() == DraftReport.Kind.OVERSTATED)
          .noneMatch(f -> f.problem().kind() == DraftReport.Kind.NOT_STATED);
    }
  }

  @Test
  void aDraftIsToldWhatIsWrongAndWhatWouldBeRight() {
    DraftReport report = DraftCheck.of(DEMO, "Best accuracy ±1 g after a one-point calibration.");
    DraftWords words = new DraftWords(DEMO, report);
    assertThat(report.findings().stream().map(words::of))
        .anyMatch(s -> s.startsWith("overstated, figure: ±1 g is smaller than the study supports"))
        .anyMatch(s -> s.startsWith("not stated, loads: It does not say for which loads"))
        .anyMatch(s -> s.startsWith("words, accuracy: The bare word accuracy says nothing"));
    assertThat(words.instead()).isEqualTo(WORDS.sentence(ONE_POINT));
  }

  @Test
  void oneLotProvesOneLot() {
    LotScope cells = new LotScope(UnitKind.CELL, 49, List.of("L1"));
    LotScope boards = new LotScope(UnitKind.BOARD, 49, List.of("A", "B", "C", "D", "E"));
    String one = words(study(), cells, boards).sentence(with());
    assertThat(one)
        .contains("kits of a cell of lot L1 with any such board")
        .contains("49 cells from 1 lot")
        .contains("Variation between cell lots was not observed");
    assertThat(words(study(), cells, boards).of(with()).mustNotSay())
        .anyMatch(s -> s.contains("cells of other lots"));
    Study assumed =
        study(new ClaimForm.Symmetric(), ClaimRequest.Subject.KIT, OptionalDouble.of(1));
    assertThat(words(assumed, cells, boards).sentence(with()))
        .contains("assumed, not measured")
        .contains("any such cell");
  }

  @Test
  void theProductPageGetsSixtyWordsThatABuyerCanCheck() {
    for (LevelClaim claim : DEMO.asDecided().claims()) {
      ClaimWords.Wording wording = WORDS.of(claim);
      String all = wording.productLine() + " " + wording.footnote();
      assertThat(all.split("\\s+", -1).length).isLessThanOrEqualTo(60);
      assertThat(all)
          .contains("0 to 50 kg", "19.6 to 23.8 °C", "95 % of kits, 95 % confidence")
          .contains("49 cells, 49 boards; every board tested", "Not for trade.");
      DEMO.excluded().forEach(e -> assertThat(all).doesNotContain(e.decision().serial()));
    }
    assertThat(WORDS.notCovered())
        .contains("loads off the centre of the platform")
        .contains("a change of temperature between calibration and use");
    assertThat(WORDS.notMeasured()).contains("creep", "ageing");
  }

  @Test
  void aMeasuredEffectAndAChangeOfTemperatureAreConditions() {
    SideTest corners =
        new SideTest(
            SideTest.Effect.OFF_CENTRE,
            "OC-",
            List.of(0.0, 20.0, 20.0),
            "loads up to 100 mm off the centre");
    Map<GuardBands.Kind, Double> grams = new EnumMap<>(GuardBands.Kind.class);
    grams.put(GuardBands.Kind.BENCH_MASSES, 0.8);
    GuardBands guards =
        new GuardBands(
            grams,
            OptionalDouble.of(5.04),
            List.of(new SideAllowance(corners, 1.5, 1.2, 1.5, 6, 6, false)));
    LevelOutcome.Figure figure =
        figure(guards, new Remark.SideTestTooSmall(SideTest.Effect.DRIFT, 0));
    LevelClaim claim = with(figure, CLEAN);
    ClaimWords words = words(study(), DEMO.asDecided().scopes().get(0));
    assertThat(words.sentence(claim))
        .contains("at the tested loads of 0, 5, 20, 35 and 50 kg")
        .contains("calibrated at a temperature up to 5 K away")
        .contains("also for loads up to 100 mm off the centre");
    assertThat(words.of(claim).footnote()).contains("also for loads up to 100 mm off the centre");
    assertThat(words.notCovered(List.of(figure)))
        .contains("a larger change of temperature between calibration and use")
        .contains("other places of the load than loads up to 100 mm off the centre")
        .contains("drift over longer than one load run");
    assertThat(FigureWords.remarks(study(), figure))
        .anyMatch(s -> s.startsWith("Drift: 0 runs"))
        .anyMatch(s -> s.startsWith("Loads off the centre: 1.5 g are added for loads up to"));
  }

  @Test
  void remarksSayWhatTheFigureRestsOn() {
    LevelOutcome.Figure figure =
        figure(
            ONE_POINT.figure().orElseThrow().guards(),
            new Remark.VirtualKits(5, 400),
            new Remark.ModelOnly(12, 24),
            wider(Remark.WiderThanKits.Cause.UNCERTAINTY),
            wider(Remark.WiderThanKits.Cause.PARTNER),
            wider(Remark.WiderThanKits.Cause.LARGEST_TESTED),
            new Remark.OneSided(),
            new Remark.LotsWiden(2),
            new Remark.LeftOut(new FactorPlan.Note(FactorPlan.Kind.ONE_UNIT, Role.CELL, 0)));
    assertThat(FigureWords.remarks(study(), figure))
        .anyMatch(s -> s.contains("number 5 from the top of 400"))
        .anyMatch(s -> s.contains("12 kits were measured, in 24 kits and none alone"))
        .anyMatch(
            s ->
                s.startsWith("Wider than for kits from the same runs, ±354 g.")
                    && s.contains("at 50 kg rising: kits 90 g, counted as 200 g")
                    && s.contains("kits 120 g, counted as 150 g (95 % confidence).")
                    && s.endsWith("has 90 % confidence only."))
        .anyMatch(s -> s.contains("mean error at 50 kg rising 40 g there, -3 g of kits."))
        .anyMatch(s -> s.contains("one further from the top of all sums"))
        .anyMatch(s -> s.contains("light skew"))
        .anyMatch(s -> s.contains("Few lots say little") && s.endsWith("it would be ±12 g."))
        .anyMatch(s -> s.contains("how cells differ is not known"));
  }

  private static Remark wider(Remark.WiderThanKits.Cause cause) {
    return new Remark.WiderThanKits(
        cause,
        354,
        50,
        Direction.RISING,
        new LevelOutcome.KnownSpread(40, 90, 200),
        new LevelOutcome.KnownSpread(-3, 120, 150));
  }

  private String refusal(Refusal why) {
    return WORDS.sentence(with(new LevelOutcome.NoFigure(why), CLEAN));
  }

  @Test
  void refusalsSayWhyAndWhatWouldHelp() {
    assertThat(refusal(new Refusal.Plain(Refusal.Cause.CELLS_AND_BOARDS_MIXED)))
        .startsWith("No figure can be claimed")
        .contains("needs runs that tell cells from boards");
    assertThat(refusal(new Refusal.NoTemperature("R1"))).contains("Run R1 has no temperature");
    assertThat(refusal(new Refusal.Plain(Refusal.Cause.FEW_CHANGES_OF_TEMPERATURE)))
        .contains("2 K away or more");
    Assumption together =
        new Assumption.PartnersGoTogether(
            Effect.NO_FIGURE, Characteristic.SENSITIVITY, -0.9, 1e-4, 30);
    assertThat(refusal(new Refusal.Assumed(together)))
        .contains("do not look paired by chance")
        .contains("pairing: matched")
        .contains("lotproof plan");
    Assumption missing =
        new Assumption.RunsMissing(Effect.NO_FIGURE, 5, 3, 0.104, OptionalDouble.empty());
    assertThat(refusal(new Refusal.Assumed(missing)))
        .contains("Not enough of the plan was measured: 48 runs planned, 43 measured");
  }

  @Test
  void errorsThatAreNotNormalAreRefusedWithWhatKitsSupport() {
    Assumption shape =
        new Assumption.NotNormal(Effect.NO_FIGURE, 1.9, 4e-4, new Support(12, 0.7791), 59);
    assertThat(refusal(new Refusal.Assumed(shape)))
        .contains(
            "Not enough kits for this content: the errors are not normal in shape (chance"
                + " 0.0004), and 12 independent kits alone support 77.9 % of kits where 95 % are"
                + " asked.")
        .contains("test 59 independent kits, or claim for less (claim, content: 0.77)");
    Assumption untested =
        new Assumption.NotNormal(Effect.NO_FIGURE, 1.9, 4e-4, new Support(0, 0), 59);
    assertThat(refusal(new Refusal.Assumed(untested)))
        .contains("no tested kit supports 95 % of kits without a shape")
        .doesNotContain("claim for less");
  }

  private String rests(Optional<Support> kits, Optional<Support> lots) {
    return WORDS.sentence(with(new Assumption.RestsOnShape(Effect.CONDITION, kits, lots)));
  }

  @Test
  void theClaimSaysWhatKitsAndLotsSupportWithoutAShape() {
    Support kits = new Support(48, 0.9395);
    Support lots = new Support(5, 0.5493);
    assertThat(rests(Optional.of(kits), Optional.of(lots)))
        .endsWith(
            "Valid only if the spread is normal in shape; without that, 48 independent kits"
                + " support 93.9 % of kits of these lots, and 5 lots support 54.9 % of kits of any"
                + " lot.");
    assertThat(rests(Optional.of(kits), Optional.empty()))
        .endsWith("without that, 48 independent kits support 93.9 % of kits.");
    assertThat(rests(Optional.empty(), Optional.of(lots)))
        .endsWith(
            "Valid only if lots spread in a normal shape; without that, 5 lots support 54.9 % of"
                + " kits of any lot.");
    assertThat(rests(Optional.of(new Support(0, 0)), Optional.empty()))
        .endsWith("without that, no tested kit supports the figure.");
  }

  private String refusal(Drift drift) {
    return refusal(
        new Refusal.Assumed(
            new LotsAndDays(
                Effect.NO_FIGURE, UnitKind.CELL, LotsAndDays.Time.SESSIONS, 0.97, 0.001, drift)));
  }

  @Test
  void lotsThatGoWithTimeAreRefusedByWhatTheCheckStandardSays() {
    assertThat(refusal(new Drift.FewCheckRuns(0, 4)))
        .contains("Lots and days cannot be told apart: sessions explain 97 %")
        .contains("no check standard was measured");
    assertThat(refusal(new Drift.FewCheckRuns(3, 4))).contains("3 usable runs, and 4 are needed");
    assertThat(refusal(new Drift.UncheckedSession("S2"))).contains("in session S2");
    assertThat(refusal(new Drift.Bounded(8))).contains("more than a fifth of the figure");
  }

  @Test
  void conditionsOfTheClaimStandInIt() {
    assertThat(WORDS.sentence(with(new Assumption.PairingNotStated(Effect.CONDITION, 20, true))))
        .contains("paired by chance, not matched");
    LevelClaim matched = with(new Assumption.MatchedKits(Effect.RESTRICTION, 50));
    assertThat(WORDS.sentence(matched))
        .contains("kits whose board was matched to its cell as in this study")
        .doesNotContain("any such");
    assertThat(WORDS.of(matched).footnote()).doesNotContain("any such");
    assertThat(WORDS.of(matched).mustNotSay()).anyMatch(s -> s.contains("any cell with any board"));
    assertThat(
            WORDS.sentence(
                with(new Assumption.RunsMissing(Effect.SHOWN, 1, 1, 0.02, OptionalDouble.of(40)))))
        .contains("1 run of the plan is missing without a cause")
        .contains("±40 g");
    assertThat(
            WORDS.sentence(
                with(
                    new LotsAndDays(
                        Effect.ALLOWANCE,
                        UnitKind.CELL,
                        LotsAndDays.Time.ORDER,
                        0.95,
                        0.01,
                        new Drift.Bounded(1.2)))))
        .contains("as far as the check standard shows it, is included with 1.2 g");
  }

  @Test
  void decisionsAreConditions() {
    Decision screen =
        new Decision(
            "D1",
            "2026-11-20",
            "M",
            Decision.Action.SCREENED,
            Decision.Target.CELL,
            "C3",
            Optional.of("sensitivity"),
            Optional.of("at most 2.1 mV/V"),
            Screen.CAUSE,
            "",
            2);
    assertThat(ClaimWords.conditions(List.of(screen)))
        .containsExactly(
            "Requires a test of every cell before it ships, which passes only: sensitivity at most"
                + " 2.1 mV/V.");
  }

  @Test
  void unitsAloneAreOnAPartner() {
    Study cells =
        study(new ClaimForm.Symmetric(), ClaimRequest.Subject.CELL, OptionalDouble.empty());
    assertThat(WORDS.sentence(ONE_POINT)).doesNotContain("alone");
    assertThat(words(cells, DEMO.asDecided().scopes().get(0)).sentence(with()))
        .contains("such cells, each on an average board of the study");
    assertThat(words(cells, DEMO.asDecided().scopes().get(0)).of(with()).productLine())
        .startsWith("Reading error of a cell alone within");
  }

  @Test
  void temperaturesAreThoseThatTheBenchSaw() {
    TemperatureRange narrower =
        new TemperatureRange(19.64, 23.79, 19.64, 23.79, TemperatureRange.Seen.NARROWER);
    assertThat(StudyWords.temperature(narrower)).isEqualTo("19.7 to 23.7 °C");
    assertThat(StudyWords.temperatureRemark(narrower, DEMO.study().conditions()))
        .contains("only 19.7 to 23.7 °C was measured");
    TemperatureRange nothing = new TemperatureRange(19, 25, 19, 25, TemperatureRange.Seen.NOTHING);
    assertThat(StudyWords.temperature(nothing)).contains("which was not recorded");
  }

  @Test
  void remediesSayHowMuchOfWhat() {
    ClaimRequest claim = DEMO.study().claim();
    assertThat(FigureWords.remedy(new Remedy.OtherLevels(claim.levels()), claim))
        .startsWith("This study supports the wanted figure");
    assertThat(FigureWords.remedy(new Remedy.FinerMasses(1.234, false), claim))
        .contains("1.23 g", "would not be enough");
    assertThat(FigureWords.remedy(new Remedy.SampleDoesNotHelp(33.333), claim)).contains("±33.3 g");
    assertThat(FigureWords.remedy(new Remedy.TestedKitsBeyond(1, 93), claim))
        .contains("1 tested kit exceeds the wanted figure", "93 kits");
    assertThat(FigureWords.remedy(new Remedy.MoreUnits(49, 120), claim))
        .contains("About 120 cells and boards instead of 49");
    assertThat(FigureWords.remedy(new Remedy.MoreLots(5, 12, 10), claim))
        .contains("About 12 lots of cells and of boards with 10 units of each");
    assertThat(FigureWords.remedy(new Remedy.LotsDoNotHelp(200), claim))
        .contains("Not even 200 lots");
    assertThat(FigureWords.remedy(new Remedy.LessSpread(Role.CELL, "Cells", 4, 0.5), claim))
        .contains("of cells at the worst load from 4 g to 2 g");
    assertThat(FigureWords.remedy(new Remedy.Screen(Role.CELL, 6, 0.9), claim))
        .contains("Test every cell", "within 6 g", "90 % pass");
    assertThat(FigureWords.remedy(new Remedy.LessOfAllSpreads("Cells", 0.4), claim))
        .contains("largest contributor is: Cells", "40 %");
    assertThat(FigureWords.remedy(new Remedy.LessOfAllSpreads("", 0), claim))
        .startsWith("Nor without any spread");
    assertThat(FigureWords.remedy(new Remedy.SmallerContent(0.8, 98, 3), claim))
        .contains("about 80 % of kits", "Of 98 tested kits, 3 exceed it.");
  }

  @Test
  void everyNumberBehindAFigureHasAName() {
    ExplanationWords words = new ExplanationWords(DEMO.study(), NONE);
    assertNamed(words, NONE.figure().orElseThrow().explanation());
    Explanation.What at = new Explanation.What.LimitAtLoad(50, Direction.RISING);
    assertThat(
            words.label(
                new Explanation(at, 1, Explanation.Rule.MODEL, List.of(), Optional.empty())))
        .isEqualTo("Limit at the worst load, 50 kg rising");
  }

  private static void assertNamed(ExplanationWords words, Explanation node) {
    assertThat(words.label(node)).isNotBlank();
    assertThat(words.how(node)).isNotBlank();
    node.parts().forEach(part -> assertNamed(words, part));
  }

  @Test
  void unitsOnAPartnerAreNamedWithIt() {
    assertThat(StudyWords.one(UnitsOnPartner.boards())).isEqualTo("board on the dummy bridge rc");
    assertThat(StudyWords.one(study())).isEqualTo("kit");
  }
}
