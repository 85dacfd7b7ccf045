package lotproof.plan.design;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Random;
import java.util.stream.LongStream;
import lotproof.study.BenchTimes;
import lotproof.study.PlannedRun;
import lotproof.study.Study;
import lotproof.study.UnitKind;
import lotproof.study.Units;
import lotproof.study.Units.Lot;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

class RunOrderTest {
  private static final Study.CheckStandard CHECK = new Study.CheckStandard("C0-1", "B0-1");
  private static final BenchTimes TIMES = new BenchTimes(8, 12, 20, 8);

  private static LongStream seeds() {
    return LongStream.rangeClosed(1, 12);
  }

  private static List<PlannedRun> runs(DesignKind kind, Units units, long seed) {
    Units checked = new Units(units.cellLots(), units.boardLots(), Optional.of(CHECK));
    return RunOrder.of(Layout.of(kind, checked, seed), TIMES, seed);
  }

  private static Map<String, List<PlannedRun>> bySession(List<PlannedRun> runs) {
    Map<String, List<PlannedRun>> sessions = new HashMap<>();
    runs.forEach(run -> sessions.computeIfAbsent(run.session(), s -> new ArrayList<>()).add(run));
    return sessions;
  }

  @ParameterizedTest
  @MethodSource("seeds")
  void everyMeetingHasOneRunAndPassesFollowOneAnother(long seed) {
    Units units = Invented.units(5, 9);
    Layout layout = Layout.of(DesignKind.ROTATION_2_REPEATS, units, seed);
    List<PlannedRun> ofUnits =
        runs(DesignKind.ROTATION_2_REPEATS, units, seed).stream()
            .filter(run -> !run.isCheck())
            .toList();
    List<String> cells = units.serials(UnitKind.CELL);
    List<String> boards = units.serials(UnitKind.BOARD);
    assertThat(ofUnits)
        .as("seed %d", seed)
        .extracting(run -> run.cell() + "/" + run.board() + "/" + run.pass())
        .containsExactlyInAnyOrderElementsOf(
            layout.meetings().stream()
                .map(m -> cells.get(m.cell()) + "/" + boards.get(m.board()) + "/" + m.pass())
                .toList());
    assertThat(ofUnits).extracting(PlannedRun::pass).isSorted();
  }

  @ParameterizedTest
  @MethodSource("seeds")
  void theCheckStandardIsFirstInTheMiddleAndLast(long seed) {
    bySession(runs(DesignKind.ROTATION_2, Invented.units(5, 10), seed))
        .forEach(
            (session, runs) -> {
              assertThat(runs.get(0).isCheck()).as("seed %d, %s", seed, session).isTrue();
              assertThat(runs.get(runs.size() - 1).isCheck()).isTrue();
              assertThat(runs.stream().filter(PlannedRun::isCheck)).hasSize(3);
              assertThat(runs.subList(runs.size() / 2 - 1, runs.size() / 2 + 2))
                  .anyMatch(PlannedRun::isCheck);
            });
  }

  @ParameterizedTest
  @MethodSource("seeds")
  void lotsAreSpreadOverTheSessionsOfAPass(long seed) {
    Random random = new Random(seed);
    List<Integer> cells = List.of(6 + random.nextInt(8), 6 + random.nextInt(8), 9, 12);
    Units units = Invented.units(cells, List.of(12, 12, 12, 12));
    List<PlannedRun> first =
        runs(DesignKind.DISJOINT_PAIRS, units, seed).stream()
            .filter(run -> !run.isCheck())
            .toList();
    Map<String, List<PlannedRun>> sessions = bySession(first);
    for (Lot lot : units.cellLots()) {
      double ofLot = first.stream().filter(run -> lot.serials().contains(run.cell())).count();
      sessions.forEach(
          (session, runs) -> {
            double even = ofLot * runs.size() / first.size();
            double here = runs.stream().filter(run -> lot.serials().contains(run.cell())).count();
            assertThat(here)
                .as("seed %d, lot %s in %s", seed, lot.name(), session)
                .isCloseTo(even, within(1.0));
          });
    }
  }

  @ParameterizedTest
  @MethodSource("seeds")
  void noPairIsRepeatedInASessionAndNoUnitMountedTwiceRunning(long seed) {
    List<PlannedRun> runs = runs(DesignKind.ROTATION_2_REPEATS, Invented.units(4, 8), seed);
    bySession(runs)
        .forEach(
            (session, here) ->
                assertThat(
                        here.stream()
                            .filter(run -> !run.isCheck())
                            .map(run -> run.cell() + "/" + run.board()))
                    .as("seed %d, %s", seed, session)
                    .doesNotHaveDuplicates());
    List<PlannedRun> ofUnits = runs.stream().filter(run -> !run.isCheck()).toList();
    for (int i = 1; i < ofUnits.size(); i++) {
      if (ofUnits.get(i).pass() == ofUnits.get(i - 1).pass()) {
        assertThat(ofUnits.get(i).cell()).isNotEqualTo(ofUnits.get(i - 1).cell());
        assertThat(ofUnits.get(i).board()).isNotEqualTo(ofUnits.get(i - 1).board());
      }
    }
  }

  @Test
  void theSameSeedGivesTheSameOrderAndAnotherSeedAnother() {
    Units units = Invented.units(3, 6);
    assertThat(runs(DesignKind.BLOCKS, units, 5)).isEqualTo(runs(DesignKind.BLOCKS, units, 5));
    assertThat(runs(DesignKind.BLOCKS, units, 5)).isNotEqualTo(runs(DesignKind.BLOCKS, units, 6));
  }

  @Test
  void benchTimeCountsWarmUpsAndChecks() {
    // 240 minutes a session less 20 of warm-up: 11 runs, 3 of them checks
    assertThat(TIMES.runsPerSession()).isEqualTo(8);
    assertThat(TIMES.sessionsFor(17)).isEqualTo(3);
    assertThat(TIMES.hoursFor(17)).isCloseTo((3 * 20 + (17 + 9) * 20) / 60.0, within(1e-12));
    assertThatThrownBy(() -> new BenchTimes(20, 60, 30, 4)).hasMessageContaining("too short");
    assertThatThrownBy(() -> new BenchTimes(8, Double.NaN, 30, 4)).hasMessageContaining("per run");
  }
}
