package lotproof.statistics.tolerance;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.OptionalDouble;
import java.util.Random;
import lotproof.statistics.shape.BoxCox;
import lotproof.statistics.summary.Summary;
import org.apache.commons.statistics.distribution.NormalDistribution;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class TransformedToleranceTest {
  private static double[] skewed(int n, double sigma, Random random) {
    double[] y = new double[n];
    Arrays.setAll(y, i -> Math.exp(sigma * random.nextGaussian()));
    return y;
  }

  /** Closed form: exp(mean of logarithms +- k s), k from the published factors for n = 10. */
  @Test
  void limitsOfTheLogarithm() {
    double[] y = skewed(10, 0.5, new Random(3));
    double[] logarithms = Arrays.stream(y).map(Math::log).toArray();
    Summary s = Summary.of(logarithms);
    TransformedTolerance log = TransformedTolerance.logarithm();
    double one = 2.9109634131;
    double two = 3.3934294787;
    close(log.upper(y, 0.95, 0.95), Math.exp(s.mean() + one * s.sd()));
    close(OptionalDouble.of(log.lower(y, 0.95, 0.95)), Math.exp(s.mean() - one * s.sd()));
    TransformedTolerance.Limits both = log.twoSided(y, 0.95, 0.95);
    close(both.upper(), Math.exp(s.mean() + two * s.sd()));
    close(OptionalDouble.of(both.lower()), Math.exp(s.mean() - two * s.sd()));
  }

  private static void close(OptionalDouble actual, double expected) {
    assertThat(actual.orElseThrow()).isCloseTo(expected, within(1e-9 * Math.abs(expected)));
  }

  @ParameterizedTest(name = "seed {0}")
  @ValueSource(longs = {1, 2, 3, 4, 5})
  void aUnitOfMeasureScalesTheLimitsAndMoreContentWidensThem(long seed) {
    Random random = new Random(seed);
    double[] y = skewed(12, 0.3, random);
    double unit = Math.exp(3 * random.nextGaussian());
    double[] scaled = Arrays.stream(y).map(v -> v * unit).toArray();
    for (double power : new double[] {-0.5, 0, 1e-9, 0.4, 1, 2}) {
      TransformedTolerance scale = new TransformedTolerance(power);
      TransformedTolerance.Limits limits = scale.twoSided(y, 0.9, 0.9);
      close(scale.twoSided(scaled, 0.9, 0.9).upper(), unit * limits.upper().orElseThrow());
      assertThat(scale.twoSided(scaled, 0.9, 0.9).lower())
          .isCloseTo(unit * limits.lower(), within(1e-8 * unit));
      assertThat(scale.twoSided(y, 0.95, 0.9).upper().orElse(Double.MAX_VALUE))
          .isGreaterThan(limits.upper().orElseThrow());
      assertThat(scale.twoSided(y, 0.9, 0.95).upper().orElse(Double.MAX_VALUE))
          .isGreaterThan(limits.upper().orElseThrow());
    }
    double none = new TransformedTolerance(1).upper(y, 0.9, 0.9).orElseThrow();
    Summary s = Summary.of(y);
    double k = NormalTolerance.oneSidedFactor(12, 0.9, 0.9);
    assertThat(none).isCloseTo(s.mean() + k * s.sd(), within(1e-12 * none));
    double near = new TransformedTolerance(1e-9).upper(y, 0.9, 0.9).orElseThrow();
    assertThat(near)
        .isCloseTo(
            TransformedTolerance.logarithm().upper(y, 0.9, 0.9).orElseThrow(), within(1e-6 * near));
  }

  @Test
  void limitsThatNoValueReaches() {
    double[] wide = {0.01, 0.2, 1, 7, 90};
    assertThat(new TransformedTolerance(1).lower(wide, 0.9, 0.9)).isZero();
    assertThat(new TransformedTolerance(-1).upper(wide, 0.9, 0.9)).isEmpty();
  }

  @Test
  void mistakesAreNamed() {
    double[] signed = {1, 2, -3};
    assertThatThrownBy(() -> TransformedTolerance.logarithm().upper(signed, 0.9, 0.9))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessageContaining("-3");
    assertThatThrownBy(() -> new TransformedTolerance(Double.NaN))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessageContaining("power");
  }

  /** A known logarithm keeps the confidence; a power found in the same data does not. */
  @Tag("slow")
  @ParameterizedTest
  @CsvSource({"10", "20", "50"})
  void aPowerFoundInTheDataCostsConfidence(int n) {
    int studies = 4000;
    long seed = 20261125;
    Random random = new Random(seed);
    double sigma = 0.5;
    NormalDistribution normal = NormalDistribution.of(0, sigma);
    int known = 0;
    int found = 0;
    for (int i = 0; i < studies; i++) {
      double[] y = skewed(n, sigma, random);
      known += holds(TransformedTolerance.logarithm().upper(y, 0.95, 0.95), normal) ? 1 : 0;
      double lambda = BoxCox.of(y, 0.95).lambda();
      found += holds(new TransformedTolerance(lambda).upper(y, 0.95, 0.95), normal) ? 1 : 0;
    }
    String at = "seed " + seed + ": known " + known + ", found " + found + " of " + studies;
    double error = 4 * Math.sqrt(0.95 * 0.05 / studies);
    assertThat(known / (double) studies).as(at).isCloseTo(0.95, within(error));
    assertThat(found / (double) studies).as(at).isLessThan(0.95 - error);
  }

  private static boolean holds(OptionalDouble upper, NormalDistribution logarithms) {
    return upper.isEmpty()
        || logarithms.cumulativeProbability(Math.log(upper.getAsDouble())) >= 0.95;
  }
}
