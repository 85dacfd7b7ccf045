package lotproof.spread;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Random;
import lotproof.model.KnownInfluence;
import lotproof.model.MeasuredValues;
import lotproof.model.Role;
import lotproof.spread.SpreadOutcome.InfluenceEffect;
import lotproof.statistics.components.FixedEffectIntervals;
import org.junit.jupiter.api.Test;

class KnownInfluenceTest {
  private static final int UNITS = 20;

  private final List<Double> values = new ArrayList<>();
  private final List<Double> temperatures = new ArrayList<>();
  private final List<String> days = new ArrayList<>();
  private final List<String> cells = new ArrayList<>();

  /** Cells measured three times; each °C adds 2, the second day adds 5. */
  private void measure(long seed) {
    Random random = new Random(seed);
    for (int i = 0; i < UNITS; i++) {
      double cell = random.nextGaussian();
      for (int repeat = 0; repeat < 3; repeat++) {
        double temperature = 20 + 3 * random.nextGaussian();
        boolean second = random.nextBoolean();
        cells.add("C" + i);
        temperatures.add(temperature);
        days.add(second ? "2026-03-05" : "2026-03-04");
        values.add(
            100 + cell + 2 * (temperature - 20) + (second ? 5 : 0) + 0.1 * random.nextGaussian());
      }
    }
  }

  private SpreadOutcome.Estimated estimated(List<KnownInfluence> influences) {
    MeasuredValues measured =
        new MeasuredValues("x", "X", "g", values, Map.of(Role.CELL, cells), influences);
    return new Spread(SpreadOptions.DEFAULTS).of(measured).estimated().orElseThrow();
  }

  @Test
  void temperatureAndDayAreTakenOut() {
    measure(11);
    SpreadOutcome.Estimated with =
        estimated(
            List.of(
                new KnownInfluence.Covariate("cell temperature", "°C", temperatures),
                new KnownInfluence.Block("day", days)));
    SpreadOutcome.Estimated without = estimated(List.of());

    assertThat(with.influences()).hasSize(2);
    InfluenceEffect temperature = with.influences().get(0);
    assertThat(temperature.per()).isEqualTo("for 1 °C");
    assertThat(temperature.estimate()).isCloseTo(2, within(0.03));
    assertThat(temperature.interval().contains(2)).isTrue();
    assertThat(temperature.toldFromZero()).isTrue();
    InfluenceEffect day = with.influences().get(1);
    assertThat(day.per()).isEqualTo("2026-03-05 against 2026-03-04");
    assertThat(day.interval().contains(5)).isTrue();
    double bench = with.components().get(1).standardDeviation();
    assertThat(bench).isCloseTo(0.1, within(0.03));
    assertThat(without.components().get(1).standardDeviation()).isGreaterThan(3);
    assertThat(without.influences()).isEmpty();
  }

  /** Cells measured in turn while noise of the given memory runs on; temperature rises slowly. */
  private InfluenceEffect temperatureWith(double memory, double slopes, long seed) {
    Random random = new Random(seed);
    double noise = random.nextGaussian();
    double[] cell = random.doubles(UNITS, -1, 1).toArray();
    double[] slope = random.doubles(UNITS, -1, 1).toArray();
    int runs = 6 * UNITS;
    for (int i = 0; i < runs; i++) {
      double temperature = 20 + 3 * Math.sin(5.0 * i / runs) + random.nextGaussian();
      cells.add("C" + i % UNITS);
      temperatures.add(temperature);
      values.add(cell[i % UNITS] + slopes * slope[i % UNITS] * (temperature - 20) + 0.5 * noise);
      noise = memory * noise + Math.sqrt(1 - memory * memory) * random.nextGaussian();
    }
    KnownInfluence temperature =
        new KnownInfluence.Covariate("cell temperature", "°C", temperatures);
    return estimated(List.of(temperature)).influences().get(0);
  }

  @Test
  void readingsWithMemoryWidenTheIntervalAndAreNamed() {
    InfluenceEffect effect = temperatureWith(0.9, 0, 14);
    assertThat(effect.doubt()).isEqualTo(FixedEffectIntervals.Doubt.MEMORY);
    assertThat(effect.widening()).isGreaterThan(1.5);
    assertThat(effect.interval().contains(0)).isTrue();
    assertThat(effect.toldFromZero()).isFalse();
  }

  @Test
  void unitsThatRespondDifferentlyWidenTheIntervalAndAreNamed() {
    InfluenceEffect effect = temperatureWith(0, 1, 15);
    assertThat(effect.doubt()).isEqualTo(FixedEffectIntervals.Doubt.UNITS);
    assertThat(effect.widening()).isGreaterThan(1.5);
    assertThat(effect.interval().contains(0)).isTrue();
  }

  @Test
  void independentReadingsOfUnitsThatRespondAlikeAreNotDoubted() {
    InfluenceEffect effect = temperatureWith(0, 0, 16);
    assertThat(effect.doubt()).isEqualTo(FixedEffectIntervals.Doubt.NONE);
    assertThat(effect.widening()).isEqualTo(1);
  }

  @Test
  void whatDidNotVaryIsSaidAndLeftOut() {
    measure(12);
    SpreadOutcome.Estimated result =
        estimated(
            List.of(
                new KnownInfluence.Covariate(
                    "board temperature", "°C", values.stream().map(v -> 21.0).toList()),
                new KnownInfluence.Block("session", values.stream().map(v -> "S1").toList()),
                new KnownInfluence.NotRecorded("cell temperature", 3)));
    assertThat(result.influences()).isEmpty();
    int runs = values.size();
    assertThat(result.unused())
        .containsExactly(
            new SpreadOutcome.UnusedInfluence("board temperature", 0, runs),
            new SpreadOutcome.UnusedInfluence("session", 0, runs),
            new SpreadOutcome.UnusedInfluence("cell temperature", 3, runs));
  }

  @Test
  void influencesThatRepeatEachOtherAreNotEstimable() {
    measure(13);
    List<KnownInfluence> twice =
        List.of(new KnownInfluence.Block("day", days), new KnownInfluence.Block("session", days));
    CharacteristicSpread spread =
        new Spread(SpreadOptions.DEFAULTS)
            .of(new MeasuredValues("x", "X", "g", values, Map.of(Role.CELL, cells), twice));
    assertThat(spread.outcome()).isInstanceOf(SpreadOutcome.NotEstimable.class);
    assertThat(((SpreadOutcome.NotEstimable) spread.outcome()).reason())
        .contains("cannot be told apart");
  }

  @Test
  void anInfluenceHasOneEntryForEachValue() {
    assertThatThrownBy(
            () ->
                new MeasuredValues(
                    "x",
                    "X",
                    "g",
                    List.of(1.0, 2.0),
                    Map.of(),
                    List.of(new KnownInfluence.Block("day", List.of("a")))))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessageContaining("day must be known for 2 values, was for 1");
  }
}
