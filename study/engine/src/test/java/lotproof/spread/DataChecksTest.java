package lotproof.spread;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Random;
import java.util.stream.IntStream;
import lotproof.model.KnownInfluence;
import lotproof.model.MeasuredValues;
import lotproof.model.Role;
import lotproof.spread.SpreadOutcome.BenchShare;
import lotproof.study.Characteristic.Limits;
import org.junit.jupiter.api.Test;

/** What is planted in invented values must be found, and nothing where nothing is planted. */
class DataChecksTest {
  private static final int UNITS = 30;

  /** A rotation of cells and boards, each pair measured twice, in random order. */
  private static final class Bench {
    private final Random random;
    private final List<Double> values = new ArrayList<>();
    private final List<String> cells = new ArrayList<>();
    private final List<String> boards = new ArrayList<>();
    private final List<String> lots = new ArrayList<>();
    private double oddCell;
    private double lotFactor = 1;
    private double badRepeat;
    private double drift;
    private double heaps;

    Bench(long seed) {
      this.random = new Random(seed);
    }

    CharacteristicSpread spread() {
      double[] cell = new double[UNITS];
      double[] board = new double[UNITS];
      for (int i = 0; i < UNITS; i++) {
        boolean second = i >= UNITS / 2;
        cell[i] = random.nextGaussian() * (second ? lotFactor : 1) + (i == 7 ? oddCell : 0);
        cell[i] += i % 2 == 0 ? heaps : -heaps;
        board[i] = 0.5 * random.nextGaussian();
      }
      List<int[]> runs = new ArrayList<>();
      for (int i = 0; i < UNITS; i++) {
        for (int pass = 0; pass < 2; pass++) {
          for (int repeat = 0; repeat < 2; repeat++) {
            runs.add(new int[] {i, (i + pass) % UNITS, repeat});
          }
        }
      }
      java.util.Collections.shuffle(runs, random);
      for (int[] run : runs) {
        boolean bad = run[0] == 3 && run[1] == 4 && run[2] == 1;
        cells.add("C" + run[0]);
        boards.add("B" + run[1]);
        lots.add(run[0] >= UNITS / 2 ? "L2" : "L1");
        values.add(
            cell[run[0]]
                + board[run[1]]
                + 0.1 * random.nextGaussian()
                + (bad ? badRepeat : 0)
                + drift * values.size());
      }
      Map<Role, List<String>> labels =
          Map.of(Role.CELL, cells, Role.BOARD, boards, Role.CELL_LOT, lots);
      Limits limits = new Limits(OptionalDouble.of(-6), OptionalDouble.of(6));
      return new Spread(new SpreadOptions(0.95, 0.95, Optional.of(limits), true))
          .of(new MeasuredValues("x", "X", "g", values, labels));
    }
  }

  private static DataCheck done(CharacteristicSpread spread, String key, String about) {
    return spread.checks().stream()
        .filter(DataCheck::done)
        .filter(check -> check.kind().key().equals(key) && check.about().noun().equals(about))
        .findFirst()
        .orElseThrow();
  }

  @Test
  void aSteadyBenchGivesNothingToLookAt() {
    CharacteristicSpread spread = new Bench(1).spread();
    assertThat(spread.checks()).hasSizeGreaterThan(10);
    assertThat(spread.checks()).noneMatch(DataCheck::notable);
  }

  @Test
  void anOddCellIsPointedAt() {
    Bench bench = new Bench(2);
    bench.oddCell = 9;
    CharacteristicSpread spread = bench.spread();
    for (String key : List.of("grubbs", "generalized-esd", "modified-z")) {
      DataCheck check = done(spread, key, "cell");
      assertThat(check.notable()).as(key).isTrue();
      assertThat(check.pointsAt()).as(key).containsExactly("C7");
      assertThat(done(spread, key, "board").notable()).as(key).isFalse();
    }
  }

  @Test
  void aKitThatRepeatsBadlyIsPointedAt() {
    Bench bench = new Bench(3);
    bench.badRepeat = 2;
    DataCheck check = done(bench.spread(), "cochran", "kit");
    assertThat(check.about()).isEqualTo(new DataCheck.About(60, "kit", 2));
    assertThat(check.notable()).isTrue();
    assertThat(check.pointsAt()).containsExactly("C3 × B4");
    assertThat(check.statistic().orElseThrow()).isGreaterThan(check.criticalValue().orElseThrow());
  }

  /** Fifty boards measured 2 to 5 times each, mostly 5 times; one may be off to both sides. */
  private static DataCheck repeatsOfBoards(Random random, int noisy, double off) {
    List<Double> values = new ArrayList<>();
    List<String> boards = new ArrayList<>();
    for (int i = 0; i < 50; i++) {
      int repeats = i % 4 == 0 ? 2 + i % 3 : 5;
      for (int k = 0; k < repeats; k++) {
        boards.add("B" + i);
        double scatter = i == noisy ? (k % 2 == 0 ? off : -off) : random.nextGaussian();
        values.add(i % 7 + scatter);
      }
    }
    return done(
        new Spread(SpreadOptions.DEFAULTS)
            .of(new MeasuredValues("x", "X", "g", values, Map.of(Role.BOARD, boards))),
        "cochran",
        "kit");
  }

  /** Board 0 was measured twice, board 4 three times; most were measured five times. */
  @Test
  void aNoisyBoardOfFewRepeatsIsPointedAt() {
    assertThat(repeatsOfBoards(new Random(8), 4, 4).pointsAt()).containsExactly("B4");
    DataCheck check = repeatsOfBoards(new Random(9), 0, 4);
    assertThat(check.notable()).isTrue();
    assertThat(check.pointsAt()).containsExactly("B0");
    assertThat(check.about()).isEqualTo(new DataCheck.About(50, "kit", 5));
  }

  /** One in a hundred, so 3 of 300 are expected. */
  @Test
  void boardsThatScatterAlikeAreRarelyPointedAt() {
    Random random = new Random(10);
    long alarms =
        IntStream.range(0, 300).filter(i -> repeatsOfBoards(random, -1, 1).notable()).count();
    assertThat(alarms).isLessThanOrEqualTo(8);
  }

  @Test
  void lotsThatScatterUnequallyAreSeen() {
    Bench bench = new Bench(4);
    bench.lotFactor = 6;
    CharacteristicSpread spread = bench.spread();
    assertThat(done(spread, "bartlett", "cell lot").notable()).isTrue();
    assertThat(done(spread, "brown-forsythe", "cell lot").notable()).isTrue();
  }

  @Test
  void aDriftIsSeenInTheOrderOfTheRuns() {
    Bench bench = new Bench(5);
    bench.drift = 0.03;
    CharacteristicSpread spread = bench.spread();
    DataCheck drift = done(spread, "drift", "value");
    assertThat(drift.notable()).isTrue();
    assertThat(drift.statistic().orElseThrow()).isCloseTo(0.03, within(0.01));
    assertThat(done(spread, "runs", "value").notable()).isTrue();
  }

  @Test
  void twoKindsInOneHeapAreSeen() {
    Bench bench = new Bench(6);
    bench.heaps = 4;
    assertThat(done(bench.spread(), "two-groups", "cell").notable()).isTrue();
  }

  @Test
  void tooFewUnitsAreNotJudged() {
    List<Double> values = List.of(1.0, 2.0, 4.0);
    CharacteristicSpread spread =
        new Spread(SpreadOptions.DEFAULTS).of(new MeasuredValues("x", "X", "g", values, Map.of()));
    assertThat(spread.checks()).hasSize(1);
    assertThat(spread.checks().get(0).done()).isFalse();
  }

  /** Two kits twice: squares within are 0.5 and 2 on one degree of freedom each. */
  @Test
  void theBenchesShareComesFromRepeatsOfTheSameKit() {
    Map<Role, List<String>> labels =
        Map.of(
            Role.CELL, List.of("a", "a", "b", "b"),
            Role.BOARD, List.of("p", "p", "q", "q"));
    MeasuredValues values =
        new MeasuredValues("x", "X", "g", List.of(10.0, 11.0, 20.0, 22.0), labels);
    Limits limits = new Limits(OptionalDouble.of(0), OptionalDouble.of(40));
    BenchShare share = BenchShares.of(values, 5, Optional.of(limits), 0.95).orElseThrow();
    double sd = Math.sqrt(2.5 / 2);
    assertThat(share.degreesOfFreedom()).isEqualTo(2);
    assertThat(share.standardDeviation()).isCloseTo(sd, within(1e-12));
    assertThat(share.shareOfTotal()).isCloseTo(sd / 5, within(1e-12));
    assertThat(share.shareOfTolerance().orElseThrow()).isCloseTo(6 * sd / 40, within(1e-12));
    assertThat(share.distinctCategories())
        .isCloseTo(1.41 * Math.sqrt(25 - 1.25) / sd, within(1e-12));
    assertThat(share.interval().contains(sd)).isTrue();
  }

  /** Kits crossed with operators, balanced: the crossed analysis, its operators included. */
  @Test
  void kitsCrossedWithOperatorsAreAnalysedAsACrossedStudy() {
    List<Double> values = new ArrayList<>();
    List<String> kits = new ArrayList<>();
    List<String> operators = new ArrayList<>();
    Random random = new Random(7);
    for (int kit = 0; kit < 10; kit++) {
      for (int operator = 0; operator < 3; operator++) {
        for (int repeat = 0; repeat < 3; repeat++) {
          values.add(kit + 0.8 * operator + 0.1 * random.nextGaussian());
          kits.add("k" + kit);
          operators.add("o" + operator);
        }
      }
    }
    MeasuredValues measured =
        new MeasuredValues(
            "x",
            "X",
            "g",
            values,
            Map.of(Role.CELL, kits),
            List.of(new KnownInfluence.Block("operator", operators)));
    BenchShare share = BenchShares.of(measured, 3, Optional.empty(), 0.95).orElseThrow();
    assertThat(share.betweenBlocks().orElseThrow()).isCloseTo(0.8, within(0.05));
    assertThat(share.shareOfTolerance()).isEmpty();
  }
}
