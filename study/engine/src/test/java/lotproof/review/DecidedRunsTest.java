package lotproof.review;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.Optional;
import lotproof.reduce.LoadRun;
import lotproof.reduce.LoadRunReduction;
import lotproof.reduce.Runs;
import lotproof.study.Decision;
import lotproof.study.Study;
import org.junit.jupiter.api.Test;

class DecidedRunsTest {
  private static final List<LoadRun> RUNS =
      List.of(run("R1", "C1", "B1"), run("R2", "C2", "B2"), run("R3", "C1", "B2"));

  private static LoadRun run(String name, String cell, String board) {
    return Runs.run(name, cell, board, new double[] {0, 50}, new double[] {0, 50_000});
  }

  private static Decision decision(
      String id, Decision.Action action, Decision.Target target, String serial, String value) {
    return new Decision(
        id,
        "2026-05-04",
        "bench",
        action,
        target,
        serial,
        action == Decision.Action.CORRECTED ? Optional.of("cell") : Optional.empty(),
        value.isEmpty() ? Optional.empty() : Optional.of(value),
        "bench damage",
        "",
        2);
  }

  private static DecidedRuns decided(List<LoadRun> runs, List<Decision> decisions) {
    return DecidedRuns.of(
        runs,
        decisions,
        List.of("bench damage"),
        all -> new LoadRunReduction(Runs.KIT, Study.ReferenceLine.TERMINAL).reduce(all).runs());
  }

  private static Decision screen(String serial, String limits) {
    return new Decision(
        "D9",
        "2026-05-04",
        "bench",
        Decision.Action.SCREENED,
        Decision.Target.CELL,
        serial,
        Optional.of("sensitivity"),
        Optional.of(limits),
        "production screen",
        "",
        7);
  }

  private static LoadRun withSlope(String name, String cell, double countsPerKilogram) {
    return Runs.run(
        name, cell, "B1", new double[] {0, 50}, new double[] {0, 50 * countsPerKilogram});
  }

  /** 1000 counts/kg are 2 mV/V, so 1100 are 2.2 and 1200 are 2.4. */
  @Test
  void aScreenTakesOutEveryUnitThatFailsIt() {
    List<LoadRun> runs =
        List.of(
            withSlope("R1", "C1", 1000), withSlope("R2", "C2", 1100), withSlope("R3", "C3", 1200));
    DecidedRuns decided = decided(runs, List.of(screen("C3", "at most 2.1 mV/V")));
    assertThat(decided.kept()).extracting(LoadRun::name).containsExactly("R1");
    assertThat(decided.issues()).isEmpty();
  }

  @Test
  void aUnitOnTheLimitPassesAndAScreenThatItPassesIsSaid() {
    List<LoadRun> runs = List.of(withSlope("R1", "C1", 1000), withSlope("R2", "C2", 1100));
    DecidedRuns decided = decided(runs, List.of(screen("C2", "between 1.9 and 2.2 mV/V")));
    assertThat(decided.kept()).hasSize(2);
    assertThat(decided.issues()).hasSize(1);
    assertThat(decided.issues().get(0).message()).contains("would pass it with 2.200 mV/V");
  }

  @Test
  void ofARunThatWasMeasuredAgainTheFirstCountsUnlessACauseIsProven() {
    List<LoadRun> runs = List.of(run("R1", "C1", "B1"), run("R4", "C1", "B1"));
    Decision proven = decision("D1", Decision.Action.RE_MEASURED, Decision.Target.RUN, "R1", "R4");
    assertThat(decided(runs, List.of(proven)).kept())
        .extracting(LoadRun::name)
        .containsExactly("R4");
    Decision unproven =
        new Decision(
            "D1",
            "2026-05-04",
            "bench",
            Decision.Action.RE_MEASURED,
            Decision.Target.RUN,
            "R1",
            Optional.empty(),
            Optional.of("R4"),
            "none found",
            "",
            2);
    DecidedRuns decided = decided(runs, List.of(unproven));
    assertThat(decided.kept()).extracting(LoadRun::name).containsExactly("R1");
    assertThat(decided.excluded()).extracting(e -> e.run().name()).containsExactly("R4");
    assertThat(decided.corrected()).hasSize(2);
  }

  @Test
  void excludesEveryRunOfAnExcludedCell() {
    DecidedRuns decided =
        decided(
            RUNS,
            List.of(decision("D1", Decision.Action.EXCLUDED, Decision.Target.CELL, "C1", "")));
    assertThat(decided.kept()).extracting(LoadRun::name).containsExactly("R2");
    assertThat(decided.excluded()).extracting(e -> e.decision().id()).containsExactly("D1", "D1");
    assertThat(decided.corrected()).hasSize(3);
  }

  @Test
  void correctsTheCellOfOneRunBeforeExclusions() {
    DecidedRuns decided =
        decided(
            RUNS,
            List.of(
                decision("D1", Decision.Action.CORRECTED, Decision.Target.RUN, "R2", "C1"),
                decision("D2", Decision.Action.EXCLUDED, Decision.Target.CELL, "C1", "")));
    assertThat(decided.kept()).isEmpty();
  }

  @Test
  void aWithdrawnDecisionHasNoEffect() {
    List<Decision> decisions =
        List.of(
            decision("D1", Decision.Action.EXCLUDED, Decision.Target.CELL, "C1", ""),
            decision("D2", Decision.Action.WITHDRAWN, Decision.Target.CELL, "C1", "D1"));
    assertThat(decided(RUNS, decisions).kept()).hasSize(3);
    assertThat(DecidedRuns.inForce(decisions)).isEmpty();
  }

  @Test
  void aUnitThatStaysInIsKept() {
    DecidedRuns decided =
        decided(
            RUNS,
            List.of(decision("D1", Decision.Action.STAYS_IN, Decision.Target.BOARD, "B2", "")));
    assertThat(decided.kept()).hasSize(3);
  }
}
