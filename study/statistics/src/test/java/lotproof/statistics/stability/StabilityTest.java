package lotproof.statistics.stability;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.Random;
import lotproof.statistics.Oracle;
import lotproof.statistics.sequence.Trend;
import lotproof.statistics.stability.StabilityCurve.Measure;
import lotproof.statistics.stability.StabilityCurve.NoiseType;
import lotproof.statistics.summary.Summary;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.EnumSource;

class StabilityTest {
  private static final Oracle ORACLE = Oracle.load("stability");

  @AfterAll
  static void everyExpectedValueWasChecked() {
    ORACLE.assertAllUsed();
  }

  private static double[] thousand() {
    double[] y = new double[1000];
    long n = 1234567890L;
    for (int i = 0; i < y.length; i++) {
      y[i] = n / 2147483647.0;
      n = 16807 * n % 2147483647L;
    }
    return y;
  }

  @ParameterizedTest
  @EnumSource(Measure.class)
  void ninePoints(Measure measure) {
    double[] y = Oracle.column("sp1065_nbs_9point.csv", "y");
    for (int m = 1; m <= 2; m++) {
      double deviation = Stability.deviation(measure, y, m);
      ORACLE.check("F" + m, measure + " " + m, deviation);
      ORACLE.check("F" + m, measure + " " + m + " printed", deviation);
    }
  }

  @ParameterizedTest
  @EnumSource(Measure.class)
  void aThousandPoints(Measure measure) {
    double[] y = thousand();
    for (int m : new int[] {1, 2, 4, 8, 10, 16, 32, 64, 100}) {
      double deviation = Stability.deviation(measure, y, m);
      ORACLE.check("F4", measure + " " + m, deviation);
      if (m == 1 || m == 10 || m == 100) {
        ORACLE.check("F4", measure + " " + m + " printed", deviation);
      }
    }
  }

  @Test
  void theThousandPointsAreThePublishedOnes() {
    double[] n = Oracle.column("sp1065_1000point.csv", "n_i");
    double[] y = thousand();
    for (int i = 0; i < y.length; i++) {
      assertThat(y[i]).isEqualTo(n[i] / 2147483647.0);
    }
    Trend trend = Trend.of(y);
    ORACLE.check("F3", "mean", Summary.mean(y));
    ORACLE.check("F3", "median", Summary.median(y));
    ORACLE.check("F3", "slope", trend.slope());
    ORACLE.check("F3", "sd", Summary.sd(y));
    ORACLE.check("F3", "max", Arrays.stream(y).max().orElseThrow());
    ORACLE.check("F3", "min", Arrays.stream(y).min().orElseThrow());
  }

  @ParameterizedTest
  @EnumSource(Measure.class)
  void aConstantDoesNotMatterAndAUnitScales(Measure measure) {
    double[] y = thousand();
    double[] moved = Arrays.stream(y).map(v -> 1e6 - 1000 * v).toArray();
    assertThat(Stability.deviation(measure, moved, 10))
        .isCloseTo(1000 * Stability.deviation(measure, y, 10), within(1e-6));
  }

  private static double[] noise(NoiseType type, int n, Random random) {
    double[] y = new double[n];
    double before = random.nextGaussian();
    double walk = 0;
    for (int i = 0; i < n; i++) {
      double white = random.nextGaussian();
      walk += white;
      y[i] =
          switch (type) {
            case DIFFERENCED_WHITE -> white - before;
            case WHITE -> white;
            case RANDOM_WALK -> walk;
            default -> throw new IllegalArgumentException(type.toString());
          };
      before = white;
    }
    return y;
  }

  @ParameterizedTest
  @EnumSource(
      value = NoiseType.class,
      names = {"DIFFERENCED_WHITE", "WHITE", "RANDOM_WALK"})
  void noiseIsTold(NoiseType type) {
    long seed = 20261125;
    Random random = new Random(seed);
    int right = 0;
    for (int i = 0; i < 50; i++) {
      right += Stability.noiseType(noise(type, 400, random), 1) == type ? 1 : 0;
    }
    assertThat(right).as("seed %s", seed).isGreaterThanOrEqualTo(48);
  }

  /** The degrees of freedom are those of the simulated spread: 2 mean² / variance. */
  @ParameterizedTest
  @CsvSource({
    "OVERLAPPING_ALLAN, WHITE, 1",
    "OVERLAPPING_ALLAN, RANDOM_WALK, 1",
    "OVERLAPPING_ALLAN, WHITE, 10",
    "ALLAN, WHITE, 10",
    "OVERLAPPING_ALLAN, RANDOM_WALK, 10",
    "OVERLAPPING_ALLAN, DIFFERENCED_WHITE, 5"
  })
  void degreesOfFreedomBySimulation(Measure measure, NoiseType type, int m) {
    long seed = 77;
    Random random = new Random(seed);
    int studies = 2500;
    double[] variances = new double[studies];
    for (int i = 0; i < studies; i++) {
      double deviation = Stability.deviation(measure, noise(type, 150, random), m);
      variances[i] = deviation * deviation;
    }
    double mean = Summary.mean(variances);
    double simulated = 2 * mean * mean / Summary.variance(variances);
    double stated = EquivalentDegreesOfFreedom.of(measure, type, 150, m);
    // The variance of so many simulated variances is itself known to about 5 %.
    assertThat(stated / simulated).as("seed %s: %s", seed, simulated).isBetween(0.85, 1.18);
  }

  @Test
  void theMinimumLiesWhereDriftTakesOver() {
    long seed = 5;
    Random random = new Random(seed);
    double[] white = noise(NoiseType.WHITE, 4096, random);
    double[] walk = noise(NoiseType.RANDOM_WALK, 4096, random);
    double[] y = new double[4096];
    Arrays.setAll(y, i -> white[i] + 0.02 * walk[i]);
    StabilityStream stream = new StabilityStream();
    Arrays.stream(y).forEach(stream::add);
    StabilityCurve curve = stream.curve(0.1, 0.95).orElseThrow();
    // White s²/m and walk q² m/3 are least together at m = sqrt(3) s/q = 87.
    StabilityCurve.Point best = curve.shortestNearMinimum();
    assertThat(best.factor()).as("seed %s", seed).isBetween(32, 128);
    assertThat(best.seconds()).isEqualTo(0.1 * best.factor());
    assertThat(curve.points().get(0).noise()).isEqualTo(NoiseType.WHITE);
    assertThat(curve.points().get(0).interval().lower()).isLessThan(1.02);
    assertThat(curve.points().get(0).interval().upper()).isGreaterThan(0.98);
  }

  @Test
  void usableBits() {
    double fullScale = 10;
    double rms = 11.5e-6;
    ORACLE.check("D1", "peak to peak µV", Resolution.PEAK_TO_PEAK * rms * 1e6);
    double effective = Resolution.effectiveBits(fullScale, rms);
    double noiseFree = Resolution.noiseFreeBits(fullScale, rms);
    ORACLE.check("D1", "effective bits", effective);
    ORACLE.check("D1", "noise-free bits", noiseFree);
    ORACLE.check("D1", "difference", effective - noiseFree);
    // A bridge of 2 mV/V at 5 V with 30 nV of noise, 3000 divisions.
    double counts = Resolution.noiseFreeCounts(10e-3, 30e-9);
    ORACLE.check("D6", "noise-free counts", counts);
    ORACLE.check("D6", "bits", Resolution.noiseFreeBits(10e-3, 30e-9));
    ORACLE.check("D6", "counts per division", counts / 3000);
  }

  @Test
  void mistakesAreNamed() {
    assertThatThrownBy(() -> Stability.deviation(Measure.ALLAN, new double[] {1, 2, 3}, 2))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessage("factor must lie in 1..1, was 2");
    assertThatThrownBy(() -> Resolution.noiseFreeBits(1, 0))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessage("rms must be above 0 and finite, was 0.0");
  }
}
