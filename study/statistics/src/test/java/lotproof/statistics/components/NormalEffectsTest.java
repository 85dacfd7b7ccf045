package lotproof.statistics.components;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.List;
import java.util.stream.IntStream;
import lotproof.statistics.shape.AndersonDarling;
import org.apache.commons.rng.sampling.distribution.NormalizedGaussianSampler;
import org.apache.commons.rng.sampling.distribution.ZigguratSampler;
import org.junit.jupiter.api.Test;

/** {@link ShapeGuaranteeTest} measures how often normal units are called not normal. */
class NormalEffectsTest {
  private static final long SEED = 20261201;

  private static ComponentsFit fit(double[] values, int lots) {
    List<Integer> lotOf = IntStream.range(0, values.length).mapToObj(i -> i % lots).toList();
    List<RandomFactor> factors = lots == 1 ? List.of() : List.of(Studies.numbered("lot", lotOf));
    return (ComponentsFit) ComponentsFitter.fit(new Observations(values, factors), FitOptions.REML);
  }

  private static int[] all(double[] values) {
    return IntStream.range(0, values.length).toArray();
  }

  private static double[] draws(int count) {
    NormalizedGaussianSampler normal = ZigguratSampler.NormalizedGaussian.of(Studies.random(SEED));
    return Studies.draws(normal, count, 1);
  }

  @Test
  void ofUnitsThatShareNothingIsTheTestOfAndersonAndDarling() {
    double[] values = draws(30);
    NormalEffects test = NormalEffects.test(fit(values, 1), all(values));
    AndersonDarling table = AndersonDarling.test(values);
    assertThat(test.andersonDarling()).isEqualTo(table.statistic());
    assertThat(test.pValue()).isEqualTo(table.pValue());
    assertThat(test.drawn()).isFalse();
  }

  @Test
  void ofLotsThatDoNotDifferDrawsGiveTheTable() {
    double[] values = draws(40);
    values[0] = 3.4;
    values[1] = 3.1;
    // lot means of zero, so that the fit finds no variance between lots
    double[] even = values.clone();
    for (int lot = 0; lot < 4; lot++) {
      int own = lot;
      double mean =
          IntStream.range(0, 40)
              .filter(i -> i % 4 == own)
              .mapToDouble(i -> values[i])
              .average()
              .orElseThrow();
      IntStream.range(0, 40).filter(i -> i % 4 == own).forEach(i -> even[i] -= mean);
    }
    NormalEffects test = NormalEffects.test(fit(even, 4), all(even));
    double table = AndersonDarling.test(even).pValue();
    assertThat(test.drawn()).isTrue();
    assertThat(test.pValue()).isCloseTo(table, within(0.3 * table + 0.002));
  }

  @Test
  void lotsFarApartAreNotCalledNotNormal() {
    double[] values = draws(40);
    for (int i = 0; i < 40; i++) {
      values[i] += i % 4 == 0 ? 12 : i % 4 == 1 ? -9 : 2;
    }
    assertThat(AndersonDarling.test(values).pValue()).isLessThan(1e-3);
    assertThat(NormalEffects.test(fit(values, 4), all(values)).pValue()).isGreaterThan(0.05);
  }

  @Test
  void twoHeapsWithinLotsAreFound() {
    double[] values = draws(60);
    for (int i = 0; i < 60; i++) {
      values[i] += i % 7 == 0 ? 9 : 0;
    }
    assertThat(NormalEffects.test(fit(values, 5), all(values)).pValue()).isLessThan(0.002);
  }

  @Test
  void shiftAndScaleDoNotMatter() {
    double[] values = draws(30);
    double[] other = Arrays.stream(values).map(v -> 1000 - 25 * v).toArray();
    assertThat(NormalEffects.test(fit(other, 3), all(other)).pValue())
        .isCloseTo(NormalEffects.test(fit(values, 3), all(values)).pValue(), within(0.1));
  }

  @Test
  void sevenObservationsAreTooFew() {
    double[] values = draws(7);
    ComponentsFit fit = fit(values, 1);
    assertThatIllegalArgumentException()
        .isThrownBy(() -> NormalEffects.test(fit, all(values)))
        .withMessageContaining("8");
  }
}
