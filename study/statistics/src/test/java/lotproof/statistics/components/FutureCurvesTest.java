package lotproof.statistics.components;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import org.apache.commons.rng.UniformRandomProvider;
import org.apache.commons.rng.sampling.distribution.ZigguratSampler;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Quantiles from the units near one that is known, against all units put in order. */
class FutureCurvesTest {
  private static final int UNITS = 3000;

  private static FutureCurves curves(UniformRandomProvider random, double meanSize) {
    int points = 1 + random.nextInt(6);
    var normal = ZigguratSampler.NormalizedGaussian.of(random);
    double[] means = new double[points];
    for (int x = 0; x < points; x++) {
      means[x] = meanSize * normal.sample();
    }
    double[] deviations = new double[UNITS * points];
    for (int i = 0; i < deviations.length; i++) {
      // coarse, so that several units share a value
      deviations[i] = Math.rint(50 * normal.sample()) / 50;
    }
    return new FutureCurves(means, deviations);
  }

  @ParameterizedTest(name = "seed {0}")
  @ValueSource(longs = {1, 2, 3, 4, 5, 6, 7, 8})
  void isTheQuantileOfAllToTheLastDigit(long seed) {
    UniformRandomProvider random = Studies.random(seed);
    for (double meanSize : new double[] {0, 0.01, 1, 30}) {
      FutureCurves curves = curves(random, meanSize);
      for (double content : new double[] {1e-9, 0.5, 0.95, 0.9999}) {
        boolean sizes = random.nextBoolean();
        for (int i = 0; i < 12; i++) {
          double inflation = i == 0 ? 1.2 : 0.2 + 3 * random.nextDouble();
          assertThat(curves.largest(inflation, sizes, content))
              .as("inflation " + inflation + ", content " + content + ", sizes " + sizes)
              .isEqualTo(FutureCurves.quantile(curves.largest(inflation, sizes), content));
        }
      }
    }
  }

  @Test
  void aQuestionInBetweenChangesNothing() {
    FutureCurves curves = curves(Studies.random(9), 0.5);
    double first = curves.largest(1.1, true, 0.9);
    curves.largest(1.3, false, 0.9);
    curves.largest(1.3, true, 0.8);
    assertThat(curves.largest(1.1, true, 0.9)).isEqualTo(first);
  }

  @ParameterizedTest
  @ValueSource(doubles = {0, -1, Double.NaN, Double.POSITIVE_INFINITY})
  void refusesAnInflationThatIsNone(double inflation) {
    FutureCurves curves = curves(Studies.random(10), 0.5);
    curves.largest(1, true, 0.9);
    assertThatThrownBy(() -> curves.largest(inflation, true, 0.9))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessageContaining("inflation");
  }
}
