package lotproof.claim;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.stream.Collectors;
import lotproof.claim.draft.DraftCheck;
import lotproof.claim.draft.DraftReport.Finding;
import lotproof.claim.draft.DraftReport.Problem;
import lotproof.claim.upkeep.LaterLotCalculator;
import lotproof.claim.upkeep.LaterLotCheck;
import lotproof.claim.upkeep.LimitOptions;
import lotproof.claim.upkeep.ProductionLimits;
import lotproof.claim.upkeep.ProductionTest;
import lotproof.study.Design;
import lotproof.study.Reading;
import lotproof.study.WatchLine;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;

/** Production limits, later lots and drafts of a study whose boards were matched to their cells. */
class MatchedKitsTest {
  private static StudyResult matched;
  private static StudyResult byChance;

  @BeforeAll
  static void measure() {
    matched = result(Design.Pairing.MATCHED);
    byChance = result(Design.Pairing.RANDOM);
  }

  /** Forty cells in two passes; what is stated of them is true. */
  private static StudyResult result(Design.Pairing pairing) {
    AssumingStudies all = new AssumingStudies(3, 40, 1, 0, 2.5);
    AssumingStudies study =
        (pairing == Design.Pairing.MATCHED ? all.matched() : all)
            .passes(2, 20, c -> 0)
            .planned()
            .stating(pairing);
    return new StudyAnalysis(study.study()).analyse(study.readings(), List.of());
  }

  private static ProductionLimits limits(StudyResult result) {
    return ProductionLimits.of(
        result, new LimitOptions(Map.of(), List.of(), true, OptionalDouble.of(0.5), false, 0.95));
  }

  @Test
  void onlyTheTestOfWholeKitsProtectsMatchedKits() {
    ProductionLimits limits = limits(matched);
    assertThat(limits.matched()).isTrue();
    for (ProductionLimits.LevelLimits level : limits.levels()) {
      assertThat(level.isProtected()).isTrue();
      assertThat(level.jig())
          .isEqualTo(new ProductionTest.CannotProtect(new ProductionTest.Why.MatchedKits()));
      assertThat(((ProductionTest.Finished) level.finished()).expected().runs()).isEqualTo(40);
    }
    assertThat(limits(byChance).matched()).isFalse();
    assertThat(limits(byChance).levels().get(0).jig()).isInstanceOf(ProductionTest.OnJig.class);
  }

  /** Ten kits of a study under other serials, each cell on two boards. */
  private static List<Reading> lot(boolean matchedKits) {
    AssumingStudies all = new AssumingStudies(3, 40, 1, 0, 2.5);
    AssumingStudies made = matchedKits ? all.matched() : all;
    Set<String> cells =
        made.cells.subList(0, 10).stream()
            .map(InventedKits.Unit::serial)
            .collect(Collectors.toSet());
    return made.passes(2, 20, c -> 0).readings().stream()
        .filter(r -> cells.contains(r.cell()))
        .map(
            r ->
                new Reading(
                    r.session(),
                    r.time(),
                    "N" + r.run(),
                    r.step(),
                    "N" + r.cell(),
                    "N" + r.board(),
                    r.loadKilograms(),
                    r.outputCounts(),
                    r.beside(),
                    r.source(),
                    r.recordLine()))
        .toList();
  }

  private static LaterLotCheck check(StudyResult result, boolean matchedKits) {
    return ((LaterLotCalculator.Outcome.Checked)
            LaterLotCalculator.of(result, lot(matchedKits), Map.of()))
        .check();
  }

  @Test
  void aLaterLotIsComparedAsMatchedKits() {
    LaterLotCheck like = check(matched, true);
    assertThat(like.remarks()).contains(new LaterLotCheck.Remark.MatchedKits(10, 10));
    assertThat(like.kits()).isEqualTo(10);
    assertThat(like.verdict()).isEqualTo(WatchLine.Verdict.CLAIM_HOLDS);
    double spread = like.levels().get(0).judgement().spread().studyGrams();
    LaterLotCheck other = check(byChance, false);
    assertThat(other.remarks()).noneMatch(LaterLotCheck.Remark.MatchedKits.class::isInstance);
    assertThat(spread).isLessThan(other.levels().get(0).judgement().spread().studyGrams() / 3);
    assertThat(check(matched, false).verdict())
        .as("kits whose boards were not matched")
        .isEqualTo(WatchLine.Verdict.HOLD_THE_LOT);
  }

  private static List<Problem> problems(StudyResult result, String draft) {
    return DraftCheck.of(result, draft).findings().stream().map(Finding::problem).toList();
  }

  @Test
  void aDraftMustSayThatKitsAreMatched() {
    String draft = "Reading error within ±900 g for 95 % of kits";
    assertThat(problems(matched, draft))
        .contains(Problem.MATCHING_NOT_STATED)
        .doesNotContain(Problem.ANY_PAIRING);
    assertThat(problems(matched, draft + " of any cell with any board"))
        .contains(Problem.ANY_PAIRING);
    assertThat(problems(matched, draft + " whose board was matched to its cell"))
        .doesNotContain(Problem.MATCHING_NOT_STATED, Problem.ANY_PAIRING);
    assertThat(problems(byChance, draft + " of any cell with any board"))
        .doesNotContain(Problem.MATCHING_NOT_STATED, Problem.ANY_PAIRING);
  }
}
