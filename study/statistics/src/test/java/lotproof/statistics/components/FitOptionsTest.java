package lotproof.statistics.components;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import java.util.stream.IntStream;
import org.apache.commons.rng.UniformRandomProvider;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Fits that start from another one, against fits that start from nothing. */
class FitOptionsTest {
  private static final double[] SDS = {1, 0.5, 0.2, 0.3, 0.4};

  private static Observations study(long seed) {
    return Studies.rotation(new Studies.Shape(30, 30, 3, 10, true, false), SDS, 0.1, seed);
  }

  @ParameterizedTest(name = "seed {0}")
  @ValueSource(longs = {1, 2, 3, 4, 5, 6})
  void findsTheSameTopWithoutAUnit(long seed) {
    Observations all = study(seed);
    ComponentsFit withAll = Studies.fit(all);
    for (int unit : new int[] {0, 7, 19}) {
      Observations some = without(all, unit);
      same(ComponentsFitter.fit(some, FitOptions.REML.from(withAll)), Studies.fit(some));
    }
  }

  @ParameterizedTest(name = "seed {0}")
  @ValueSource(longs = {11, 12, 13})
  void findsTheSameTopOfOtherValuesOfOneStructure(long seed) {
    Observations first = study(seed);
    ComponentsFit known = Studies.fit(first);
    double[] values = first.values();
    UniformRandomProvider random = Studies.random(seed);
    for (int i = 0; i < values.length; i++) {
      values[i] += 0.2 * random.nextDouble();
    }
    same(
        ComponentsFitter.fit(known.observations().withValues(values), FitOptions.REML.from(known)),
        Studies.fit(first.withValues(values)));
  }

  @Test
  void wantsAVarianceForEachComponent() {
    ComponentsFit fit = Studies.fit(study(1));
    assertThatThrownBy(() -> FitOptions.REML.from(fit, new double[] {1, 2}))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessageContaining("4");
  }

  private static void same(FitOutcome near, ComponentsFit far) {
    assertThat(near).isInstanceOf(ComponentsFit.class);
    double[] expected = far.variances();
    double total = java.util.Arrays.stream(expected).sum();
    double[] found = ((ComponentsFit) near).variances();
    for (int k = 0; k < expected.length; k++) {
      assertThat(found[k])
          .isCloseTo(expected[k], within(1e-6 * Math.max(expected[k], 1e-3 * total)));
    }
  }

  private static Observations without(Observations all, int cell) {
    RandomFactor cells = all.factors().get(0);
    int[] kept = IntStream.range(0, all.size()).filter(i -> cells.level(i) != cell).toArray();
    double[] values = all.values();
    List<RandomFactor> factors = new ArrayList<>();
    for (RandomFactor factor : all.factors()) {
      factors.add(
          RandomFactor.of(
              factor.component(),
              IntStream.of(kept).mapToObj(i -> Integer.toString(factor.level(i))).toList()));
    }
    return new Observations(IntStream.of(kept).mapToDouble(i -> values[i]).toArray(), factors);
  }
}
