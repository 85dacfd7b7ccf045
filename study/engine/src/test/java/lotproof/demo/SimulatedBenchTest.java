package lotproof.demo;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.EnumMap;
import java.util.Map;
import lotproof.demo.SimulatedBench.JoinedPair;
import lotproof.demo.SimulatedBench.Warmth;
import lotproof.plan.Draws;
import org.junit.jupiter.api.Test;

class SimulatedBenchTest {
  private static final double[] LOADS = {0, 25, 50, 25, 0};
  private static final Warmth AT_20 = new Warmth(20, 20, 0);

  private final Draws draws = DemoStudy.streams(1, 1).get(0);

  /** Everything ideal: no bow, no noise, no spread; creep too slow to matter. */
  private static BenchModel still(Map<Double, Double> massErrors) {
    return new BenchModel(50, 2, 1_000_000, 4, 80, 60, 1e12, 0, 0, 0, 0, massErrors);
  }

  private static Traits<CellTrait> idealCell() {
    Map<CellTrait, NormalSpread> none = new EnumMap<>(CellTrait.class);
    for (CellTrait trait : CellTrait.values()) {
      none.put(trait, new NormalSpread(trait == CellTrait.LOG_NOISE ? -60 : 0, 0, 0));
    }
    return new Population<>(CellTrait.class, none).average();
  }

  private static Traits<BoardTrait> idealBoard() {
    Map<BoardTrait, NormalSpread> none = new EnumMap<>(BoardTrait.class);
    for (BoardTrait trait : BoardTrait.values()) {
      double mean =
          switch (trait) {
            case LOG_NOISE -> -60;
            case INDEPENDENT_SAMPLES -> 1;
            default -> 0;
          };
      none.put(trait, new NormalSpread(mean, 0, 0));
    }
    return new Population<>(BoardTrait.class, none).average();
  }

  private double[] counts(Traits<CellTrait> cell, Traits<BoardTrait> board, Warmth warmth) {
    SimulatedBench bench = new SimulatedBench(still(Map.of()));
    return bench.run(new JoinedPair(cell, board, 0), LOADS, warmth, draws).outputCounts();
  }

  @Test
  void anIdealKitReadsItsNominalCounts() {
    assertThat(counts(idealCell(), idealBoard(), AT_20))
        .containsExactly(new double[] {0, 1_000_000, 2_000_000, 1_000_000, 0}, within(1e-6));
  }

  @Test
  void bowLiftsTheMiddleAndLeavesTheEnds() {
    assertThat(counts(idealCell().with(CellTrait.BOW, 0.001), idealBoard(), AT_20))
        .containsExactly(new double[] {0, 1_002_000, 2_000_000, 1_002_000, 0}, within(1e-6));
  }

  @Test
  void hysteresisLiftsTheFallingMiddleOnly() {
    assertThat(counts(idealCell().with(CellTrait.HYSTERESIS, 0.001), idealBoard(), AT_20))
        .containsExactly(new double[] {0, 1_000_000, 2_000_000, 1_002_000, 0}, within(1e-6));
  }

  @Test
  void theCubicPartHasItsStatedHeightAndNoneAtHalfCapacity() {
    Traits<CellTrait> cell = idealCell().with(CellTrait.CUBIC, 0.001);
    assertThat(counts(cell, idealBoard(), AT_20)[1]).isCloseTo(1_000_000, within(1e-6));
    // u(1-u)(1-2u) is largest at u = (1 - 1/sqrt 3)/2
    double[] loads = {0, 25 * (1 - 1 / Math.sqrt(3))};
    double[] seen =
        new SimulatedBench(still(Map.of()))
            .run(new JoinedPair(cell, idealBoard(), 0), loads, AT_20, draws)
            .outputCounts();
    assertThat(seen[1] - loads[1] * 40_000).isCloseTo(2000, within(1e-6));
  }

  @Test
  void boardNonLinearityHasItsStatedHeightAndNoneAtFullScale() {
    Traits<BoardTrait> board = idealBoard().with(BoardTrait.INL, 0.001);
    // w(1-w²) is largest at w = 1/sqrt 3; full scale 4 mV/V is 100 kg of this cell
    double[] loads = {0, 100 / Math.sqrt(3), 100};
    double[] seen =
        new SimulatedBench(still(Map.of()))
            .run(new JoinedPair(idealCell(), board, 0), loads, AT_20, draws)
            .outputCounts();
    assertThat(seen[1] - loads[1] * 40_000).isCloseTo(4000, within(1e-6));
    assertThat(seen[2]).isCloseTo(4_000_000, within(1e-6));
  }

  @Test
  void creepBuildsUpUnderLoadAndShowsInTheReturnToZero() {
    BenchModel fast = new BenchModel(50, 2, 1_000_000, 4, 80, 60, 60, 0, 0, 0, 0, Map.of());
    Traits<CellTrait> cell = idealCell().with(CellTrait.CREEP, 0.001);
    double[] seen =
        new SimulatedBench(fast)
            .run(new JoinedPair(cell, idealBoard(), 0), new double[] {0, 50, 50, 0}, AT_20, draws)
            .outputCounts();
    double left = Math.exp(-1);
    assertThat(seen[1]).isCloseTo(2_000_000 + 2000 * (1 - left), within(1e-6));
    assertThat(seen[2]).isCloseTo(2_000_000 + 2000 * (1 - left * left), within(1e-6));
    assertThat(seen[3]).isCloseTo(2000 * (1 - left * left) * left, within(1e-6));
  }

  @Test
  void temperatureMovesZeroAndSensitivity() {
    Traits<CellTrait> cell =
        idealCell()
            .with(CellTrait.ZERO_PER_KELVIN, 0.0001)
            .with(CellTrait.SENSITIVITY_PER_KELVIN, 0.00001);
    Traits<BoardTrait> board =
        idealBoard()
            .with(BoardTrait.OFFSET_PER_KELVIN, 0.00001)
            .with(BoardTrait.GAIN_PER_KELVIN, 0.00002);
    double[] seen = counts(cell, board, new Warmth(25, 23, 0));
    assertThat(seen[0]).isCloseTo(500 * (1 + 6e-5) + 30, within(1e-6));
    assertThat(seen[2] - seen[0]).isCloseTo(2_000_000 * (1 + 5e-5) * (1 + 6e-5), within(1e-6));
  }

  @Test
  void aHeavyMassReadsHigh() {
    SimulatedBench bench = new SimulatedBench(still(Map.of(50.0, 5.0)));
    double[] seen =
        bench.run(new JoinedPair(idealCell(), idealBoard(), 0), LOADS, AT_20, draws).outputCounts();
    assertThat(seen[2]).isCloseTo(2_000_200, within(1e-6));
    assertThat(seen[1]).isCloseTo(1_000_000, within(1e-6));
  }

  @Test
  void slowNoiseAveragesOutLess() {
    assertThat(sdOfMean(1)).isCloseTo(100 / Math.sqrt(80), within(0.6));
    assertThat(sdOfMean(0.1)).isCloseTo(100 / Math.sqrt(8), within(2.0));
  }

  private double sdOfMean(double independent) {
    Traits<BoardTrait> board =
        idealBoard()
            .with(BoardTrait.LOG_NOISE, Math.log(1e-4))
            .with(BoardTrait.INDEPENDENT_SAMPLES, independent);
    SimulatedBench bench = new SimulatedBench(still(Map.of()));
    double[] zeros = new double[4000];
    SimulatedRun run = bench.run(new JoinedPair(idealCell(), board, 0), zeros, AT_20, draws);
    double squares = 0;
    for (double count : run.outputCounts()) {
      squares += count * count;
    }
    return Math.sqrt(squares / zeros.length);
  }

  @Test
  void aTraitLeftOutIsRefused() {
    assertThatThrownBy(() -> new Population<>(CellTrait.class, Map.of()))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessageContaining("log sensitivity");
  }

  @Test
  void notANumberIsRefused() {
    assertThatThrownBy(() -> new NormalSpread(0, Double.NaN, 0))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessageContaining("lot sd");
    assertThatThrownBy(() -> idealCell().with(CellTrait.BOW, Double.NaN))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessageContaining("bow");
  }
}
