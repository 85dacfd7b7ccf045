package lotproof.statistics.components;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.Set;
import lotproof.statistics.components.FitOutcome.NotEstimable;
import lotproof.statistics.components.Observations.FixedColumn;
import org.junit.jupiter.api.Test;

/** Questions the data cannot answer get a reason; mistakes of the caller get an exception. */
class NotEstimableTest {
  private static String reason(double[] values, RandomFactor... factors) {
    FitOutcome outcome =
        ComponentsFitter.fit(new Observations(values, List.of(factors)), FitOptions.REML);
    assertThat(outcome).isInstanceOf(NotEstimable.class);
    return ((NotEstimable) outcome).reason();
  }

  private static RandomFactor factor(String name, int... levels) {
    int most = java.util.Arrays.stream(levels).max().orElse(0);
    return new RandomFactor(new Component(name), levels, most + 1);
  }

  @Test
  void tooFewReadings() {
    assertThat(reason(new double[0])).contains("no reading");
    assertThat(reason(new double[] {3})).contains("one reading");
  }

  @Test
  void noSpreadAtAll() {
    assertThat(reason(new double[] {0.1, 0.1, 0.1}, factor("cell", 0, 1, 1)))
        .contains("same value");
  }

  /** Values of any size, alone or many: an outcome, and everything that rests on a fit stands. */
  @Test
  void valuesFarFromAllOthersGiveAnOutcome() {
    for (long seed = 1; seed <= 40; seed++) {
      java.util.Random random = new java.util.Random(seed);
      int n = 30;
      double[] values = new double[n];
      int[] cells = new int[n];
      int[] boards = new int[n];
      for (int i = 0; i < n; i++) {
        cells[i] = i % 10;
        boards[i] = (i + i / 10) % 10;
        values[i] = random.nextGaussian();
      }
      for (int k = 0; k < 1 + random.nextInt(3); k++) {
        values[random.nextInt(n)] *= Math.pow(10, random.nextInt(400) - 200);
      }
      FitOutcome outcome =
          ComponentsFitter.fit(
              new Observations(values, List.of(factor("cell", cells), factor("board", boards))),
              FitOptions.REML);
      if (outcome instanceof ComponentsFit fit) {
        assertThat(fit.unconstrainedVariances()).as("seed %d", seed).doesNotContain(Double.NaN);
        assertThat(ProfileIntervals.adjusted(fit, 0.95)).as("seed %d", seed).hasSize(3);
      } else {
        assertThat(((NotEstimable) outcome).reason()).as("seed %d", seed).isNotBlank();
      }
    }
  }

  @Test
  void oneLevel() {
    assertThat(reason(new double[] {1, 2, 3}, factor("lot", 0, 0, 0))).contains("one lot");
  }

  @Test
  void everyReadingHasItsOwnUnit() {
    assertThat(reason(new double[] {1, 2, 3}, factor("cell", 0, 1, 2)))
        .contains("cell")
        .contains("residual");
  }

  @Test
  void identicalGrouping() {
    assertThat(
            reason(
                new double[] {1, 2, 3, 5}, factor("cell", 0, 0, 1, 1), factor("board", 1, 1, 0, 0)))
        .contains("cell")
        .contains("board")
        .contains("same way");
  }

  @Test
  void oneCellPerLotOnADesignThatLooksCrossed() {
    // three lots, three cells, one per lot, with two boards: lot and cell coincide
    assertThat(
            reason(
                new double[] {1, 2, 3, 5, 4, 7},
                factor("cell", 0, 0, 1, 1, 2, 2),
                factor("board", 0, 1, 0, 1, 0, 1),
                factor("lot", 2, 2, 1, 1, 0, 0)))
        .contains("lot");
  }

  @Test
  void componentsThatOnlyDifferInCombination() {
    // 2 x 2 with the pair read once: pair is the residual
    assertThat(
            reason(
                new double[] {1, 2, 4, 3},
                factor("cell", 0, 0, 1, 1),
                factor("board", 0, 1, 0, 1),
                factor("pair", 0, 1, 2, 3)))
        .contains("pair");
  }

  @Test
  void tooFewUnitsForTheNumberOfComponents() {
    // three pairs leave two differences, whose squares and product cannot carry four components
    assertThat(
            reason(
                new double[] {1, 2, 4, 4.1, 2.2},
                factor("cell", 0, 0, 1, 1, 0),
                factor("board", 0, 1, 0, 0, 1),
                factor("bench", 0, 1, 1, 1, 1),
                factor("pair", 0, 1, 2, 2, 1)))
        .contains("apart");
  }

  @Test
  void repeatsWithoutSpread() {
    assertThat(reason(new double[] {1, 1, 2, 2, 4, 4}, factor("cell", 0, 0, 1, 1, 2, 2)))
        .contains("repeat");
  }

  @Test
  void additiveToTheLastDigit() {
    assertThat(
            reason(
                new double[] {0, 1, 3, 4, 8, 9, 1, 2},
                factor("cell", 0, 0, 1, 1, 2, 2, 3, 3),
                factor("board", 0, 1, 0, 1, 0, 1, 0, 1)))
        .contains("exactly");
  }

  @Test
  void oneContrastThatCancelsByChanceIsAZeroResidual() {
    // a rotation of two passes has one contrast free of units; rounding makes it exactly zero
    Observations study =
        Studies.rotation(
            new Studies.Shape(12, 12, 2, 0, false, false), new double[] {1, 0.5, 0, 0.2, 0}, 0, 3);
    double[] values = study.values();
    double alternating = 0;
    for (int i = 0; i < 12; i++) {
      alternating += values[i] - values[12 + i];
    }
    values[0] -= alternating;
    ComponentsFit fit = Studies.fit(study.withValues(values));
    assertThat(fit.record().converged()).isTrue();
    assertThat(fit.variance(new Component("cell"))).isBetween(0.2, 4.0);
    assertThat(ProfileIntervals.ofStandardDeviations(fit, 0.95)).hasSize(3);
  }

  @Test
  void repeatedKnownInfluences() {
    Observations observations =
        new Observations(
            new double[] {1, 2, 4, 3},
            List.of(factor("cell", 0, 0, 1, 1)),
            List.of(
                new FixedColumn("a", new double[] {1, 2, 3, 4}),
                new FixedColumn("b", new double[] {2, 4, 6, 8})));
    assertThat(ComponentsFitter.fit(observations, FitOptions.REML))
        .isInstanceOf(NotEstimable.class);
  }

  @Test
  void twoReadingsAreEnoughForOneSpread() {
    ComponentsFit fit = Studies.fit(new Observations(new double[] {1, 3}, List.of()));
    assertThat(fit.variance(Component.RESIDUAL)).isCloseTo(2, within(1e-15));
    assertThat(fit.mean()).isEqualTo(2);
  }

  @Test
  void mistakesOfTheCaller() {
    assertThatThrownBy(() -> new Observations(new double[] {1, Double.NaN}, List.of()))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessageContaining("NaN");
    assertThatThrownBy(
            () -> new Observations(new double[] {1, 2}, List.of(factor("cell", 0, 1, 1))))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessageContaining("cell");
    assertThatThrownBy(() -> new RandomFactor(new Component("residual"), new int[] {0}, 1))
        .isInstanceOf(IllegalArgumentException.class);
    assertThatThrownBy(() -> new RandomFactor(new Component("cell"), new int[] {2}, 2))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessageContaining("0..1");
    ComponentsFit fit = Studies.fit(new Observations(new double[] {1, 3, 4}, List.of()));
    assertThatThrownBy(() -> ProfileIntervals.ofStandardDeviations(fit, Double.NaN))
        .isInstanceOf(IllegalArgumentException.class);
    assertThatThrownBy(() -> fit.variance(new Component("cell")))
        .isInstanceOf(IllegalArgumentException.class);
    assertThatThrownBy(() -> FutureUnitLimits.of(fit, Set.of(new Component("bord")), 0.95, 0.95))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessageContaining("bord");
  }
}
