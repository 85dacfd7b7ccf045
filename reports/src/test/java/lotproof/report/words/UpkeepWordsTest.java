package lotproof.report.words;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import lotproof.claim.FigureChange;
import lotproof.claim.upkeep.LaterLotCalculator.Outcome;
import lotproof.claim.upkeep.LaterLotCheck;
import lotproof.claim.upkeep.LaterLotCheck.Remark;
import lotproof.claim.upkeep.LaterLotCheck.Rule;
import lotproof.claim.upkeep.LimitOptions;
import lotproof.claim.upkeep.ProductionLimits;
import lotproof.claim.upkeep.ProductionTest;
import lotproof.claim.upkeep.ProductionTest.Why;
import lotproof.claim.upkeep.Repeatability;
import lotproof.claim.upkeep.SplitClaim;
import lotproof.reduce.Direction;
import lotproof.report.assembly.DemoResult;
import lotproof.study.CalibrationLevel;
import lotproof.study.ClaimForm;
import lotproof.study.ClaimRequest;
import lotproof.study.MassClass;
import lotproof.study.Study;
import lotproof.study.UnitKind;
import lotproof.study.WatchLine;
import org.junit.jupiter.api.Test;

/** Production tests, later lots and changed figures in words. */
class UpkeepWordsTest {
  private static final Study DEMO = DemoResult.get().study();
  private static final CalibrationLevel ONE_POINT =
      new CalibrationLevel.Calibrated(List.of(20.0), MassClass.M1);
  private static final Repeatability KNOWN = new Repeatability(20, false);

  private static ProductionTest.LoadGuard guard(double load, OptionalInt from) {
    return new ProductionTest.LoadGuard(load, Direction.RISING, from, 0.5, 1, 0.8, 9);
  }

  private static ProductionTest.Finished test(ProductionTest.LoadGuard... loads) {
    return new ProductionTest.Finished(
        9.1,
        9.14,
        5.9,
        1.5,
        0.3,
        List.of(loads),
        0,
        List.of(loads.length - 1),
        new ProductionTest.Expected(0.99, 40, 42, 0.001, 0.01));
  }

  private static LimitsWords words(
      Study study,
      ClaimForm form,
      boolean changesInTest,
      OptionalDouble changeKelvin,
      ProductionTest finished,
      ProductionTest jig) {
    LimitOptions options =
        new LimitOptions(Map.of(), List.of(), true, OptionalDouble.of(0.3), changesInTest, 0.95);
    ProductionLimits.LevelLimits level =
        new ProductionLimits.LevelLimits(
            ONE_POINT, Optional.empty(), changeKelvin, 15, 3, 14, KNOWN, finished, jig);
    return new LimitsWords(
        study,
        new ProductionLimits(study.claim().subject(), false, form, options, List.of(level)),
        level);
  }

  private static String finished(
      ClaimForm form, boolean changesInTest, OptionalDouble kelvin, ProductionTest test) {
    return words(DEMO, form, changesInTest, kelvin, test, new ProductionTest.NotNeeded())
        .finished();
  }

  @Test
  void aTestOfEveryLoadHoldsForAnyLot() {
    String words =
        finished(
            new ClaimForm.Symmetric(),
            true,
            OptionalDouble.of(6),
            test(guard(50, OptionalInt.empty())));
    assertThat(words)
        .startsWith("If every kit is tested after taring and a one-point calibration")
        .contains("calibrated at one temperature and read at another")
        .contains("ships only when it reads within ±9.1 g at 50 kg rising")
        .endsWith("with a probability of 95 % or more, whichever lot it comes from.");
  }

  @Test
  void whatIsNotTestedIsPredicted() {
    ClaimForm form = new ClaimForm.Symmetric();
    assertThat(
            finished(
                form,
                false,
                OptionalDouble.empty(),
                test(guard(20, OptionalInt.of(1)), guard(50, OptionalInt.empty()))))
        .contains("loads that are not tested are predicted from the tested ones");
    assertThat(finished(form, false, OptionalDouble.of(6), test(guard(50, OptionalInt.of(0)))))
        .contains("used up to 6 K away from its calibration")
        .contains("the effect of a change of temperature is predicted");
  }

  @Test
  void limitsAreInTheFormOfTheFigure() {
    ProductionTest test = test(guard(50, OptionalInt.empty()));
    assertThat(finished(new ClaimForm.OfReading(0.004, 10), false, OptionalDouble.empty(), test))
        .contains("±(0.364 % of the load + 9.1 g)")
        .contains("% of reading + 15 g");
    assertThat(
            finished(
                new ClaimForm.OneSided(ClaimForm.Side.BELOW), false, OptionalDouble.empty(), test))
        .contains("at most 9.1 g too low at")
        .doesNotContain("±");
  }

  private static String why(Why why) {
    return finished(
        new ClaimForm.Symmetric(),
        false,
        OptionalDouble.empty(),
        new ProductionTest.CannotProtect(why));
  }

  @Test
  void aFigureThatCannotBeProtectedSaysWhy() {
    assertThat(why(new Why.RepeatabilityNotKnown(3, 10)))
        .contains("its runs leave 3 degrees of freedom for that, and 10 are needed")
        .contains("Measure 7 more kits a second time");
    assertThat(why(new Why.MatchedKits())).contains("test each kit as it ships");
    assertThat(why(new Why.NoTestedLoad(List.of(20.0, 50.0))))
        .contains("No limit protects the figure.", "the study has 20, 50 kg");
    assertThat(why(new Why.NothingLeft(16))).contains("16 g, which leaves nothing of ±15 g");
    assertThat(why(new Why.NoRoom(50, Direction.FALLING, 3, 1, 12, true)))
        .contains("At 50 kg falling", "leave no room for ±15 g; test at that load too.");
    assertThat(why(new Why.NoKitMeasured())).contains("no kit");
    assertThat(why(new Why.CellsAndBoardsMixed())).contains("cells cannot be told from boards");
  }

  @Test
  void unitsAreTestedAloneOnTheirPartner() {
    Study cells = UnitsOnPartner.cells();
    LimitsWords words =
        words(
            cells,
            new ClaimForm.Symmetric(),
            false,
            OptionalDouble.empty(),
            test(guard(50, OptionalInt.empty())),
            new ProductionTest.NotNeeded());
    assertThat(words.finished()).startsWith("If every cell on the reference board rb is tested");
    assertThat(words.jig()).contains("alone on the reference board rb");
  }

  @Test
  void testsOnAJigAreOfEachUnit() {
    ProductionTest.OnJig jig =
        new ProductionTest.OnJig(3, List.of(), 50, Direction.RISING, 2, 1, 0.99);
    String kits =
        words(
                DEMO,
                new ClaimForm.Symmetric(),
                false,
                OptionalDouble.empty(),
                new ProductionTest.NotNeeded(),
                jig)
            .jig();
    assertThat(kits)
        .startsWith("If every cell and every board passes its own test")
        .contains("any such cell with any such board reads within ±15 g")
        .endsWith("provided pairing and bench spread stay as measured.");
    assertThat(LimitsWords.cautions()).anyMatch(c -> c.contains("no safety limits"));
  }

  private static LaterLotCheck.LevelCheck level(List<Rule> broken) {
    return new LaterLotCheck.LevelCheck(
        "none",
        50,
        Direction.RISING,
        30,
        0.95,
        "R1",
        new LaterLotCheck.Judgement(
            new LaterLotCheck.Mean(12.34, 2, 5, 9),
            new LaterLotCheck.Spread(
                OptionalDouble.of(7), 3, OptionalDouble.of(6), OptionalDouble.of(2)),
            new LaterLotCheck.Single(40, 5, 3, 1, 38, 20, 0.7),
            WatchLine.Verdict.HOLD_THE_LOT,
            broken));
  }

  @Test
  void everyBrokenRuleIsSaidWithItsNumbers() {
    assertThat(LaterLotWords.broken(level(List.of(Rule.values()))))
        .containsExactly(
            "3 of 5 are beyond the figure of 30 g, too many for a claim of 95 %.",
            "One is 38 g from the study's mean; at most 20 g are expected.",
            "Even the most favourable mean that these readings allow leaves only 70.0 % of the lot"
                + " within the figure.",
            "The lot's mean of 12.3 g is 10.3 g from the study's; at most 5 g are expected.",
            "The lot's standard deviation is 7 g; at most 6 g are expected.");
  }

  @Test
  void remarksSayWhatWasNotCompared() {
    LaterLotCheck check =
        new LaterLotCheck(
            ClaimRequest.Subject.KIT,
            3,
            4,
            List.of(level(List.of())),
            WatchLine.Verdict.CLAIM_HOLDS,
            0.05,
            List.of(
                new Remark.OtherLoads(1),
                new Remark.NotOfSubject(2),
                new Remark.NotCompared("none, corrected", 3),
                new Remark.FartherFromCalibration("one-point", 6.1, 5),
                new Remark.AtOneTemperature("one-point"),
                new Remark.MeasuredAsKits(),
                new Remark.OneLotStudied(UnitKind.CELL)));
    assertThat(LaterLotWords.remarks(DEMO, check))
        .anyMatch(s -> s.startsWith("1 run with other loads"))
        .anyMatch(s -> s.startsWith("2 runs not of a kit"))
        .anyMatch(s -> s.endsWith("3 runs without a temperature."))
        .anyMatch(s -> s.contains("up to 6.1 K from its calibration, the study up to 5.0 K"))
        .anyMatch(s -> s.contains("not every kit of the lot was measured"))
        .anyMatch(s -> s.contains("was measured as kits"))
        .anyMatch(s -> s.startsWith("The study saw one cell lot."))
        .anyMatch(s -> s.startsWith("4 kits share units; mean and spread are judged from 3"));
    assertThat(LaterLotWords.why(UnitsOnPartner.cells(), Outcome.Why.NOT_OF_SUBJECT))
        .contains("cell on the reference board rb");
  }

  @Test
  void aChangeAgainstExpectationIsExplainedInNumbers() {
    FigureChange none = DemoResult.get().changes().get(0);
    assertThat(ReviewWords.change(none))
        .startsWith("Without the decisions ±")
        .contains("Mainly estimation uncertainty of mean and spread")
        .contains("leaves fewer to judge by");
  }

  @Test
  void aSplitClaimStatesItsPrice() {
    SplitClaim split =
        new SplitClaim(
            List.of(new SplitClaim.BadShare(UnitKind.CELL, 1, 49, 0.1)),
            0.95,
            0.8559,
            0.95,
            0.975,
            List.of(
                new SplitClaim.LevelFigure(
                    ONE_POINT, OptionalDouble.of(30), OptionalDouble.empty())));
    assertThat(ReviewWords.split(DEMO, split))
        .contains("1 of 49 cells bad means that up to 10.0 % of cells may be.")
        .contains("Good kits read within ±30 g")
        .contains("at least 85.5 % of all kits do, with 95 % confidence.")
        .doesNotContain("brings nothing");
  }

  @Test
  void aSplitThatIsNoNarrowerSaysSo() {
    SplitClaim split =
        new SplitClaim(
            List.of(new SplitClaim.BadShare(UnitKind.CELL, 1, 49, 0.1)),
            0.95,
            0.8559,
            0.95,
            0.975,
            List.of(
                new SplitClaim.LevelFigure(ONE_POINT, OptionalDouble.of(35), OptionalDouble.of(34)),
                new SplitClaim.LevelFigure(
                    new CalibrationLevel.None(), OptionalDouble.of(700), OptionalDouble.of(756))));
    assertThat(ReviewWords.split(DEMO, split))
        .contains("Good kits read within ±700 g")
        .contains("A split brings nothing for " + ONE_POINT.label())
        .doesNotContain("±35 g");
  }
}
