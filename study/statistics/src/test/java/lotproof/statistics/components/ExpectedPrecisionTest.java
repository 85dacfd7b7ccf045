package lotproof.statistics.components;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import java.util.Set;
import lotproof.statistics.Oracle;
import lotproof.statistics.components.FitOutcome.NotEstimable;
import org.junit.jupiter.api.Test;

/** What designs can estimate, held against a table of exact information. */
class ExpectedPrecisionTest {
  private static final double[] CELL_BOARD_REST = {1, 0.25, 0.05};
  private static final double[] CELL_BOARD_PAIR_REST = {1, 0.25, 0.01, 0.04};

  /** Who meets whom, run by run. */
  private static final class Runs {
    private final List<String> cells = new ArrayList<>();
    private final List<String> boards = new ArrayList<>();

    void add(String cell, String board) {
      cells.add(cell);
      boards.add(board);
    }

    static Runs rotation(int units, int partners) {
      Runs runs = new Runs();
      for (int pass = 0; pass < partners; pass++) {
        for (int i = 0; i < units; i++) {
          runs.add("c" + i, "b" + (i + pass) % units);
        }
      }
      return runs;
    }

    static Runs blocks(int blocks, int size) {
      Runs runs = new Runs();
      for (int block = 0; block < blocks; block++) {
        for (int i = 0; i < size * size; i++) {
          runs.add("c" + block + "-" + i / size, "b" + block + "-" + i % size);
        }
      }
      return runs;
    }

    /** Repeats this many of the first so many runs, evenly spread. */
    Runs repeated(int count, int first) {
      for (int i = 0; i < count; i++) {
        int run = i * first / count;
        add(cells.get(run), boards.get(run));
      }
      return this;
    }

    ComponentsFit crossed(double[] variances) {
      List<RandomFactor> factors =
          new ArrayList<>(
              List.of(
                  RandomFactor.of(new Component("cell"), cells),
                  RandomFactor.of(new Component("board"), boards)));
      if (variances.length == 4) {
        factors.add(RandomFactor.of(new Component("pair"), pairs()));
      }
      return expected(ComponentsFitter.assumed(cells.size(), factors, variances, 0));
    }

    List<String> pairs() {
      List<String> pairs = new ArrayList<>();
      for (int i = 0; i < cells.size(); i++) {
        pairs.add(cells.get(i) + "/" + boards.get(i));
      }
      return pairs;
    }
  }

  private static ComponentsFit expected(FitOutcome outcome) {
    return (ComponentsFit) outcome;
  }

  @Test
  void agreesWithTheTableOfDesigns() {
    Oracle oracle = Oracle.load("designs");
    check(oracle, "rotation 50 2", Runs.rotation(50, 2).crossed(CELL_BOARD_REST));
    check(oracle, "rotation 50 3", Runs.rotation(50, 3).crossed(CELL_BOARD_REST));
    check(oracle, "rotation 33 3", Runs.rotation(33, 3).crossed(CELL_BOARD_REST));
    check(oracle, "rotation 25 4", Runs.rotation(25, 4).crossed(CELL_BOARD_REST));
    check(oracle, "blocks 25", Runs.blocks(25, 2).crossed(CELL_BOARD_REST));
    check(oracle, "full 10", Runs.blocks(1, 10).crossed(CELL_BOARD_REST));

    ComponentsFit repeats = Runs.rotation(50, 2).repeated(20, 50).crossed(CELL_BOARD_PAIR_REST);
    for (Component component : repeats.components()) {
      oracle.check("rotation 50 2 repeats", component.name(), percent(repeats, component));
    }
    checkTotals(oracle, "rotation 50 2 repeats", repeats);
    ComponentsFit full = Runs.blocks(1, 10).repeated(100, 100).crossed(CELL_BOARD_PAIR_REST);
    for (Component component : full.components()) {
      oracle.check("full 10 twice", component.name(), percent(full, component));
    }
    checkTotals(oracle, "full 10 twice", full);

    ComponentsFit pairs = expected(ComponentsFitter.assumed(50, List.of(), new double[] {1.3}, 0));
    oracle.check("pairs 50", "total", 100 * pairs.relativeStandardErrorOfTotal(Set.of()));
    Runs twice = Runs.rotation(50, 1).repeated(50, 50);
    checkTotals(
        oracle,
        "pairs 50 twice",
        expected(
            ComponentsFitter.assumed(
                100,
                List.of(RandomFactor.of(new Component("kit"), twice.pairs())),
                new double[] {1.26, 0.04},
                0)));
    oracle.assertAllUsed();
  }

  private static void check(Oracle oracle, String id, ComponentsFit precision) {
    for (Component component : precision.components()) {
      oracle.check(id, component.name(), percent(precision, component));
    }
    oracle.check(id, "total", 100 * precision.relativeStandardErrorOfTotal(Set.of()));
  }

  private static void checkTotals(Oracle oracle, String id, ComponentsFit precision) {
    oracle.check(id, "total", 100 * precision.relativeStandardErrorOfTotal(Set.of()));
    oracle.check(
        id,
        "total without residual",
        100 * precision.relativeStandardErrorOfTotal(Set.of(Component.RESIDUAL)));
  }

  private static double percent(ComponentsFit precision, Component component) {
    return 100 * precision.relativeStandardError(component).orElseThrow();
  }

  @Test
  void independentKitsHaveTheDegreesOfFreedomOfTheTextbook() {
    ComponentsFit pairs = expected(ComponentsFitter.assumed(50, List.of(), new double[] {7}, 3));
    double relative = pairs.relativeStandardErrorOfTotal(Set.of());
    assertThat(1 / (2 * relative * relative)).isCloseTo(49, within(1e-9));
  }

  @Test
  void theUnitOfMeasureDoesNotMatter() {
    ComponentsFit one = Runs.rotation(12, 2).crossed(CELL_BOARD_REST);
    ComponentsFit large = Runs.rotation(12, 2).crossed(new double[] {1e6, 0.25e6, 0.05e6});
    assertThat(large.relativeStandardErrorOfTotal(Set.of()))
        .isCloseTo(one.relativeStandardErrorOfTotal(Set.of()), within(1e-10));
  }

  @Test
  void expectedLimitsLieAmongThoseOfSimulatedStudies() {
    Runs runs = Runs.rotation(50, 2);
    ComponentsFit precision = runs.crossed(CELL_BOARD_REST);
    double expected = FutureUnitLimits.of(precision, Set.of(), 0.95, 0.95).symmetricHalfWidth();
    Random random = new Random(20261125);
    int below = 0;
    int times = 400;
    for (int i = 0; i < times; i++) {
      double[] cells = random.doubles(50).map(u -> random.nextGaussian()).toArray();
      double[] boards = random.doubles(50).map(u -> 0.5 * random.nextGaussian()).toArray();
      double[] values = new double[100];
      for (int r = 0; r < 100; r++) {
        int cell = Integer.parseInt(runs.cells.get(r).substring(1));
        int board = Integer.parseInt(runs.boards.get(r).substring(1));
        values[r] = cells[cell] + boards[board] + Math.sqrt(0.05) * random.nextGaussian();
      }
      ComponentsFit fit =
          (ComponentsFit)
              ComponentsFitter.fit(precision.observations().withValues(values), FitOptions.REML);
      double limit = FutureUnitLimits.of(fit, Set.of(), 0.95, 0.95).symmetricHalfWidth();
      below += limit < expected ? 1 : 0;
    }
    assertThat(below / (double) times).as("seed 20261125").isBetween(0.35, 0.65);
  }

  @Test
  void aLayoutThatCannotTellSaysSo() {
    Runs pairs = Runs.rotation(20, 1);
    FitOutcome outcome =
        ComponentsFitter.assumed(
            20,
            List.of(
                RandomFactor.of(new Component("cell"), pairs.cells),
                RandomFactor.of(new Component("board"), pairs.boards)),
            CELL_BOARD_REST,
            0);
    assertThat(outcome).isInstanceOf(NotEstimable.class);
  }

  @Test
  void impossibleVariancesAreRefused() {
    assertThatThrownBy(() -> ComponentsFitter.assumed(10, List.of(), new double[] {0}, 0))
        .hasMessageContaining("residual");
    assertThatThrownBy(() -> ComponentsFitter.assumed(10, List.of(), new double[] {Double.NaN}, 0))
        .hasMessageContaining("0 or above");
    assertThatThrownBy(() -> ComponentsFitter.assumed(10, List.of(), new double[] {1, 1}, 0))
        .hasMessageContaining("must be 1");
  }
}
