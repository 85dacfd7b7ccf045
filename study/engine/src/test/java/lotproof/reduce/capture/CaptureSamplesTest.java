package lotproof.reduce.capture;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import java.util.Random;
import java.util.stream.DoubleStream;
import java.util.stream.IntStream;
import lotproof.reduce.capture.CaptureNoise.GlitchKind;
import lotproof.statistics.stability.StabilityCurve;
import lotproof.statistics.stability.StabilityCurve.Behaviour;
import lotproof.statistics.summary.Summary;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Each sign of trouble is planted into seeded noise and found, and plain noise shows none. */
class CaptureSamplesTest {
  private static final long SEED = 4711;

  private static double[] noise(int n, double sd) {
    Random random = new Random(SEED);
    double[] y = new double[n];
    for (int i = 0; i < n; i++) {
      y[i] = Math.rint(1_204_000 + sd * random.nextGaussian());
    }
    return y;
  }

  private static CaptureNoise of(double[] samples, ConverterRange range) {
    CaptureSamples sums = new CaptureSamples();
    for (int i = 0; i < samples.length; i++) {
      sums.add(i + 2, i / 80.0, samples[i]);
    }
    return sums.finish(range, true, OptionalDouble.empty());
  }

  private static CaptureNoise of(double[] samples) {
    return of(samples, ConverterRange.UNKNOWN);
  }

  @Test
  void plainNoiseHasItsMomentsAndNoTrouble() {
    double[] y = noise(20_000, 12);
    CaptureNoise noise = of(y, ConverterRange.ofBits(24, false));
    assertThat(noise.all().mean()).isCloseTo(Summary.mean(y), within(1e-7));
    assertThat(noise.all().sd()).isCloseTo(Summary.sd(y), within(1e-9));
    assertThat(noise.shortTermNoise()).isCloseTo(12, within(0.3));
    assertThat(noise.secondsPerSample().orElseThrow()).isCloseTo(1 / 80.0, within(1e-12));
    assertThat(noise.resolution().orElseThrow().effective())
        .isCloseTo(Math.log(16_777_216 / Summary.sd(y)) / Math.log(2), within(1e-9));
    assertThat(noise.resolution().orElseThrow().noiseFree())
        .isCloseTo(Math.log(16_777_216 / (6.6 * Summary.sd(y))) / Math.log(2), within(1e-9));
    assertThat(noise.faults().glitches().count()).isZero();
    assertThat(noise.faults().steps().count()).isZero();
    assertThat(noise.faults().gaps().count()).isZero();
    assertThat(noise.periodic()).isEmpty();
    assertThat(noise.faults().saturation()).isEmpty();
    assertThat(noise.faults().stuck()).isEmpty();
    assertThat(noise.drift().orElseThrow().pValue()).isGreaterThan(0.01);
    assertThat(noise.stability().orElseThrow().behaviourAt(3)).isEqualTo(Behaviour.WHITE);
  }

  /** One in a thousand white captures has a sine, one in a hundred a drift or a coloured slope. */
  @ParameterizedTest
  @ValueSource(ints = {64, 128, 600, 1500})
  void whiteCapturesHaveSignsAtTheStatedRate(int samples) {
    Random random = new Random(SEED + samples);
    int sines = 0;
    int drifts = 0;
    int coloured = 0;
    for (int i = 0; i < 300; i++) {
      double[] y =
          DoubleStream.generate(random::nextGaussian)
              .limit(samples)
              .map(v -> Math.rint(400 * v))
              .toArray();
      CaptureNoise noise = of(y);
      sines += noise.periodic().isEmpty() ? 0 : 1;
      drifts += noise.drift().orElseThrow().pValue() < 0.01 ? 1 : 0;
      StabilityCurve curve = noise.stability().orElseThrow();
      coloured +=
          IntStream.range(0, curve.points().size())
                  .allMatch(k -> curve.behaviourAt(k) == Behaviour.WHITE)
              ? 0
              : 1;
    }
    assertThat(sines).as("sines").isLessThanOrEqualTo(3);
    assertThat(drifts).as("drifts").isLessThanOrEqualTo(9);
    assertThat(coloured).as("coloured").isLessThanOrEqualTo(9);
  }

  @Test
  void singleSamplesFarOffAreNamedAndLeftOut() {
    double[] y = noise(5000, 12);
    double[] clean = y.clone();
    y[700] = clean[700] + (1 << 18);
    y[900] = 2 * clean[900];
    y[1500] = clean[1500] - 5000;
    CaptureNoise noise = of(y);
    assertThat(noise.faults().glitches().first())
        .extracting(CaptureNoise.Glitch::line)
        .containsExactly(702L, 902L, 1502L);
    assertThat(noise.faults().glitches().first())
        .extracting(CaptureNoise.Glitch::kind)
        .containsExactly(GlitchKind.BIT_SLIP, GlitchKind.SHIFTED_BIT, GlitchKind.SPIKE);
    assertThat(noise.all().samples()).isEqualTo(5000);
    assertThat(noise.good().samples()).isEqualTo(4997);
    assertThat(noise.good().sd()).isCloseTo(12, within(0.5));
    assertThat(noise.all().sd()).isGreaterThan(3000);
  }

  @Test
  void aSineIsFoundWithFrequencyAmplitudeAndItsMainsFold() {
    double[] y = noise(8000, 12);
    for (int i = 0; i < y.length; i++) {
      y[i] += 6 * Math.sin(2 * Math.PI * 50 * i / 80.0);
    }
    List<CaptureNoise.Periodic> found = of(y).periodic();
    assertThat(found).hasSize(1);
    assertThat(found.get(0).hertz().orElseThrow()).isCloseTo(30, within(0.01));
    assertThat(found.get(0).amplitude()).isCloseTo(6, within(0.6));
    assertThat(found.get(0).mainsAlias()).isEqualTo("50 Hz, folded");
  }

  @Test
  void stepsBetweenLevelsAreCountedAndDriftIsNoStep() {
    double[] y = noise(6000, 12);
    double[] ramp = y.clone();
    for (int i = 0; i < y.length; i++) {
      y[i] += i / 1000 % 2 == 1 ? 80 : 0;
      ramp[i] += i * 0.5;
    }
    CaptureNoise stepped = of(y);
    assertThat(stepped.faults().steps().count()).isEqualTo(5);
    assertThat(stepped.faults().popcorn()).isTrue();
    assertThat(stepped.faults().steps().first().get(0).size()).isCloseTo(80, within(20.0));
    assertThat(stepped.faults().steps().first().get(0).line()).isBetween(998L, 1006L);
    CaptureNoise drifting = of(ramp);
    assertThat(drifting.faults().steps().count()).isZero();
    assertThat(drifting.drift().orElseThrow().perSample()).isCloseTo(0.5, within(0.01));
    assertThat(drifting.drift().orElseThrow().pValue()).isLessThan(0.01);
  }

  @Test
  void aHangingConverterAndOneAtItsEndAreNamed() {
    double[] y = noise(3000, 12);
    java.util.Arrays.fill(y, 1000, 1040, y[1000]);
    CaptureNoise stuck = of(y);
    assertThat(stuck.faults().stuck().orElseThrow().longest()).isEqualTo(40);
    assertThat(stuck.faults().stuck().orElseThrow().line()).isEqualTo(1002);
    double[] same = new double[100];
    assertThat(of(same).faults().stuck().orElseThrow().everySample()).isTrue();
    double[] high = noise(3000, 12);
    java.util.Arrays.fill(high, 5, 9, 8_388_607);
    CaptureNoise.Saturation rail = of(high).faults().saturation().orElseThrow();
    assertThat(rail.samples()).isEqualTo(4);
    assertThat(rail.line()).isEqualTo(7);
  }

  @Test
  void aGapOfTheClockIsNamedAndLeavesTheRateAlone() {
    CaptureSamples sums = new CaptureSamples();
    double[] y = noise(2000, 12);
    for (int i = 0; i < y.length; i++) {
      sums.add(i + 2, i / 80.0 + (i >= 1200 ? 3 : 0), y[i]);
    }
    CaptureNoise noise = sums.finish(ConverterRange.UNKNOWN, true, OptionalDouble.empty());
    assertThat(noise.faults().gaps().count()).isEqualTo(1);
    assertThat(noise.faults().gaps().first().get(0).line()).isEqualTo(1202);
    assertThat(noise.secondsPerSample().orElseThrow()).isCloseTo(1 / 80.0, within(1e-9));
  }

  @Test
  void aShiftAndAChangeOfScaleChangeNothingElse() {
    double[] y = noise(4000, 12);
    double[] moved = new double[y.length];
    for (int i = 0; i < y.length; i++) {
      moved[i] = 4 * y[i] - 1_000_000;
    }
    CaptureNoise a = of(y);
    CaptureNoise b = of(moved);
    assertThat(b.good().sd()).isCloseTo(4 * a.good().sd(), within(1e-8));
    assertThat(b.stability().orElseThrow().points().get(5).deviation())
        .isCloseTo(4 * a.stability().orElseThrow().points().get(5).deviation(), within(1e-8));
  }

  @Test
  void aNoisyCaptureStandsOutOfTheLot() {
    List<CaptureNoise> lot = new ArrayList<>();
    Random random = new Random(SEED);
    for (int c = 0; c < 9; c++) {
      double[] y = new double[500];
      for (int i = 0; i < y.length; i++) {
        y[i] = Math.rint((c == 6 ? 60 : 12) * random.nextGaussian());
      }
      lot.add(of(y));
    }
    LotNoise found = LotNoise.of(lot);
    assertThat(found.excess()).extracting(LotNoise.Excess::capture).contains(6);
    assertThat(found.excess().stream().filter(e -> e.capture() == 6).findFirst().orElseThrow())
        .satisfies(e -> assertThat(e.noiseRatio()).isCloseTo(5, within(0.7)));
    assertThat(LotNoise.of(lot.subList(0, 4)).excess()).isEmpty();
  }
}
