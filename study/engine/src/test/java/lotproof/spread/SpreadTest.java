package lotproof.spread;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Random;
import lotproof.model.FactorPlan;
import lotproof.model.MeasuredValues;
import lotproof.model.Role;
import lotproof.spread.SpreadOutcome.Component;
import lotproof.statistics.capability.CapabilityIndices;
import lotproof.study.Characteristic.Limits;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class SpreadTest {
  private static final Spread SPREAD = new Spread(SpreadOptions.DEFAULTS);

  private static CharacteristicSpread bare(Double... values) {
    return SPREAD.of(new MeasuredValues("x", "X", "g", List.of(values), Map.of()));
  }

  private static String reason(CharacteristicSpread spread) {
    return ((SpreadOutcome.NotEstimable) spread.outcome()).reason();
  }

  @Test
  void nothingMeasuredIsNotEstimable() {
    assertThat(reason(bare())).isEmpty();
  }

  @Test
  void oneValueIsNotEstimable() {
    assertThat(bare(1.0).outcome()).isInstanceOf(SpreadOutcome.NotEstimable.class);
    assertThat(reason(bare(1.0))).isNotBlank();
  }

  @Test
  void equalValuesAreNotEstimable() {
    assertThat(bare(2.0, 2.0, 2.0).outcome()).isInstanceOf(SpreadOutcome.NotEstimable.class);
  }

  /**
   * NIST/SEMATECH e-Handbook 7.2.6.3 uses 43 wafers; factors here by check value k2(n=10, 95/95) =
   * 3.3934294787.
   */
  @Test
  void independentKitsUseTheExactFactors() {
    double[] z = {-1.5, -1, -0.6, -0.3, -0.1, 0.1, 0.3, 0.6, 1, 1.5};
    List<Double> values = new ArrayList<>();
    for (double v : z) {
      values.add(10 + v);
    }
    CharacteristicSpread spread = SPREAD.of(new MeasuredValues("x", "X", "g", values, Map.of()));
    SpreadOutcome.Estimated estimated = spread.estimated().orElseThrow();
    // sum of squares 2 * (2.25 + 1 + 0.36 + 0.09 + 0.01) = 7.42, over 9
    double sd = Math.sqrt(7.42 / 9);
    assertThat(estimated.limits().totalStandardDeviation()).isCloseTo(sd, within(1e-9));
    assertThat(estimated.limits().upper()).isCloseTo(10 + 3.3934294787 * sd, within(1e-8));
    assertThat(estimated.limits().onlyBelow()).isCloseTo(10 + 2.9109634131 * sd, within(1e-8));
    assertThat(estimated.components()).hasSize(1);
    assertThat(spread.distributionFree().orElseThrow().disjointKits()).isEqualTo(10);
  }

  @Test
  void disjointPairsAreShownAsKits() {
    List<String> cells = new ArrayList<>();
    List<String> boards = new ArrayList<>();
    List<Double> values = new ArrayList<>();
    Random random = new Random(11);
    for (int i = 0; i < 12; i++) {
      double kit = random.nextGaussian();
      for (int repeat = 0; repeat < 2; repeat++) {
        cells.add("C" + i);
        boards.add("B" + i);
        values.add(kit + 0.1 * random.nextGaussian());
      }
    }
    MeasuredValues measured =
        new MeasuredValues("x", "X", "", values, Map.of(Role.CELL, cells, Role.BOARD, boards));
    SpreadOutcome.Estimated estimated = SPREAD.of(measured).estimated().orElseThrow();
    assertThat(estimated.components())
        .extracting(Component::role)
        .containsExactly(Role.KIT, Role.RESIDUAL);
    assertThat(estimated.notes())
        .contains(new FactorPlan.Note(FactorPlan.Kind.ONE_PARTNER_EACH, Role.KIT, 0));
  }

  @Test
  void capabilityAppearsWithLimits() {
    Spread limited =
        new Spread(
            new SpreadOptions(
                0.95,
                0.95,
                Optional.of(new Limits(OptionalDouble.of(0), OptionalDouble.of(20))),
                true));
    CharacteristicSpread spread =
        limited.of(
            new MeasuredValues(
                "x", "X", "g", List.of(9.0, 10.0, 11.0, 10.5, 9.5, 10.0, 8.8, 11.2), Map.of()));
    assertThat(spread.estimated().orElseThrow().capability().orElseThrow().ppk()).isGreaterThan(3);
  }

  /**
   * Cells in lots, each measured once, limits 4 standard deviations from the true mean: the bound
   * of Ppk holds in 19 of 20 studies, which bounds by the degrees of freedom of the total do not
   * (0.85 to 0.91).
   */
  @ParameterizedTest
  @CsvSource({"3, 0.3", "3, 0.75", "5, 0.75"})
  void capabilityOfCellsInLotsHoldsAsOftenAsItSays(int lots, double share) {
    Limits limits = new Limits(OptionalDouble.of(-4), OptionalDouble.of(4));
    Spread limited = new Spread(new SpreadOptions(0.95, 0.95, Optional.of(limits), false));
    Random random = new Random(20261201);
    int studies = 200;
    int bound = 0;
    int width = 0;
    for (int i = 0; i < studies; i++) {
      CapabilityIndices c =
          limited
              .of(cellsInLots(random, lots, share))
              .estimated()
              .flatMap(SpreadOutcome.Estimated::capability)
              .orElseThrow();
      bound += c.ppkLowerBound() <= 4 / 3.0 ? 1 : 0;
      width += c.ppInterval().orElseThrow().contains(4 / 3.0) ? 1 : 0;
    }
    assertThat(bound).as("bound of Ppk").isGreaterThanOrEqualTo(188);
    // 0.94 less two standard errors
    assertThat(width).as("interval of Pp").isGreaterThanOrEqualTo(181);
  }

  /**
   * Lots more alike than chance has them: mean squares 0.07 between and 3.24 within lots. Lots are
   * then estimated at zero, and the mean is that of 9 independent values: sd / sqrt(9), not what
   * 0.9 would make of it (0.316).
   */
  @Test
  void lotsAtZeroLeaveTheMeanTheErrorOfIndependentValues() {
    List<Double> values = List.of(9.9, 8.1, 11.7, 10.0, 11.8, 8.2, 10.2, 12.0, 8.4);
    List<String> lots = List.of("a", "a", "a", "b", "b", "b", "c", "c", "c");
    List<String> cells = List.of("1", "2", "3", "4", "5", "6", "7", "8", "9");
    SpreadOutcome.Estimated estimated =
        SPREAD
            .of(
                new MeasuredValues(
                    "x", "X", "g", values, Map.of(Role.CELL, cells, Role.CELL_LOT, lots)))
            .estimated()
            .orElseThrow();
    assertThat(estimated.components().get(0).atBoundary()).isTrue();
    double mean = values.stream().mapToDouble(v -> v).average().orElseThrow();
    double squares = values.stream().mapToDouble(v -> (v - mean) * (v - mean)).sum();
    assertThat(estimated.limits().meanStandardError())
        .isCloseTo(Math.sqrt(squares / 8 / 9), within(1e-9));
  }

  private static MeasuredValues cellsInLots(Random random, int lots, double share) {
    List<String> lotOf = new ArrayList<>();
    List<String> cells = new ArrayList<>();
    List<Double> values = new ArrayList<>();
    for (int lot = 0; lot < lots; lot++) {
      double ofLot = Math.sqrt(share) * random.nextGaussian();
      for (int cell = 0; cell < 10; cell++) {
        lotOf.add("L" + lot);
        cells.add("C" + lot + "-" + cell);
        values.add(ofLot + Math.sqrt(1 - share) * random.nextGaussian());
      }
    }
    return new MeasuredValues(
        "x", "X", "g", values, Map.of(Role.CELL, cells, Role.CELL_LOT, lotOf));
  }
}
