package lotproof.statistics.shape;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.Random;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class TwoGroupsTest {
  @ParameterizedTest
  @ValueSource(longs = {4L, 20261125L})
  void twoHeapsAreSeenAndOneIsNot(long seed) {
    Random random = new Random(seed);
    double[] one = new double[50];
    Arrays.setAll(one, i -> random.nextGaussian());
    double[] two = new double[50];
    Arrays.setAll(two, i -> (i < 20 ? 0 : 6) + random.nextGaussian());
    TwoGroups single = TwoGroups.of(one).orElseThrow();
    TwoGroups pair = TwoGroups.of(two).orElseThrow();
    assertThat(single.pValue()).as("seed %s", seed).isGreaterThan(0.01);
    assertThat(pair.pValue()).as("seed %s", seed).isLessThan(0.001);
    double[] moved = Arrays.stream(two).map(v -> 1e6 - 3 * v).toArray();
    assertThat(TwoGroups.of(moved).orElseThrow().share()).isCloseTo(pair.share(), within(1e-9));
  }

  @Tag("slow")
  @Test
  void falseAlarmsOfTwoHeapsKeepTheirLevel() {
    Random random = new Random(12);
    int alarms = 0;
    for (int i = 0; i < 100; i++) {
      double[] y = new double[30];
      Arrays.setAll(y, j -> random.nextGaussian());
      alarms += TwoGroups.of(y).orElseThrow().pValue() < 0.05 ? 1 : 0;
    }
    // Binomial(100, 0.05): 13 and more has a chance below 0.002.
    assertThat(alarms).isLessThan(13);
  }

  @Test
  void equalValuesHaveNoHeaps() {
    assertThat(TwoGroups.of(new double[12])).isEmpty();
  }
}
