package lotproof.review;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.Optional;
import lotproof.reduce.LoadRun;
import lotproof.reduce.Runs;
import lotproof.study.Decision;
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

  @Test
  void excludesEveryRunOfAnExcludedCell() {
    DecidedRuns decided =
        DecidedRuns.of(
            RUNS,
            List.of(decision("D1", Decision.Action.EXCLUDED, Decision.Target.CELL, "C1", "")));
    assertThat(decided.kept()).extracting(LoadRun::name).containsExactly("R2");
    assertThat(decided.excluded()).extracting(e -> e.decision().id()).containsExactly("D1", "D1");
    assertThat(decided.corrected()).hasSize(3);
  }

  @Test
  void correctsTheCellOfOneRunBeforeExclusions() {
    DecidedRuns decided =
        DecidedRuns.of(
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
    assertThat(DecidedRuns.of(RUNS, decisions).kept()).hasSize(3);
    assertThat(DecidedRuns.inForce(decisions)).isEmpty();
  }

  @Test
  void aUnitThatStaysInIsKept() {
    DecidedRuns decided =
        DecidedRuns.of(
            RUNS,
            List.of(decision("D1", Decision.Action.STAYS_IN, Decision.Target.BOARD, "B2", "")));
    assertThat(decided.kept()).hasSize(3);
  }
}
