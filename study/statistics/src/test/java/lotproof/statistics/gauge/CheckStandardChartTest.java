package lotproof.statistics.gauge;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.List;
import java.util.Random;
import lotproof.statistics.summary.Summary;
import org.apache.commons.math3.special.Gamma;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class CheckStandardChartTest {
  @Tag("slow")
  @ParameterizedTest
  @CsvSource({"8, 0.05", "20, 0.05", "20, 0.01", "100, 0.0027"})
  void falseAlarmsComeAsOftenAsStated(int n, double alpha) {
    long seed = 20261125;
    Random random = new Random(seed);
    int baselines = 20_000;
    int single = 0;
    int jumps = 0;
    double[] x = new double[n];
    for (int i = 0; i < baselines; i++) {
      Arrays.setAll(x, j -> 50 + 2 * random.nextGaussian());
      CheckStandardChart chart = CheckStandardChart.of(x, alpha);
      double one = 50 + 2 * random.nextGaussian();
      double two = 50 + 2 * random.nextGaussian();
      single += one < chart.lower() || one > chart.upper() ? 1 : 0;
      jumps += Math.abs(two - one) > chart.rangeLimit() ? 1 : 0;
    }
    // The spread from moving ranges is only nearly a chi: a tenth more or less, and binomial error.
    double allowed = 0.1 * alpha + 4 * Math.sqrt(alpha / baselines);
    assertThat(single / (double) baselines).as("seed %s", seed).isCloseTo(alpha, within(allowed));
    assertThat(jumps / (double) baselines).as("seed %s", seed).isCloseTo(alpha, within(allowed));
  }

  @ParameterizedTest
  @CsvSource({"6", "15", "40"})
  void degreesOfFreedomBySimulation(int n) {
    Random random = new Random(31);
    double[] sigmas = new double[20_000];
    double[] x = new double[n];
    for (int i = 0; i < sigmas.length; i++) {
      Arrays.setAll(x, j -> random.nextGaussian());
      sigmas[i] = CheckStandardChart.of(x, 0.05).sigma();
    }
    assertThat(Summary.mean(sigmas)).isCloseTo(1, within(0.01));
    double df = CheckStandardChart.degreesOfFreedom(n);
    double c4 =
        Math.sqrt(2 / df) * Math.exp(Gamma.logGamma(0.5 * (df + 1)) - Gamma.logGamma(0.5 * df));
    assertThat(Summary.sd(sigmas)).isCloseTo(Math.sqrt(1 / (c4 * c4) - 1), within(0.01));
  }

  @Test
  void signals() {
    double[] baseline = {10, 11, 10, 9, 10, 11, 9, 10, 10, 11, 9, 10};
    CheckStandardChart chart = CheckStandardChart.of(baseline, 0.01);
    List<CheckStandardChart.Alarm> alarms = chart.judge(new double[] {10.1, 30, 9.9});
    assertThat(alarms)
        .containsExactly(
            new CheckStandardChart.Alarm(1, 30, CheckStandardChart.Signal.BEYOND_LIMITS),
            new CheckStandardChart.Alarm(1, 30, CheckStandardChart.Signal.JUMP),
            new CheckStandardChart.Alarm(2, 9.9, CheckStandardChart.Signal.JUMP));
    double[] shifted = new double[9];
    Arrays.fill(shifted, 10.4);
    // (1/2)^7 = 0.0078 is the first below 0.01: the eighth on one side signals.
    assertThat(chart.judge(shifted))
        .extracting(CheckStandardChart.Alarm::index)
        .containsExactly(7, 8);
  }

  @Test
  void driftWithinTheBaselineWidensTheSpreadLittle() {
    double[] drifting = new double[30];
    Arrays.setAll(drifting, i -> i + (i % 2 == 0 ? 0.5 : -0.5));
    CheckStandardChart chart = CheckStandardChart.of(drifting, 0.01);
    assertThat(chart.baselineSd()).isGreaterThan(5 * chart.sigma());
  }

  @Test
  void mistakesAreNamed() {
    assertThatThrownBy(() -> CheckStandardChart.of(new double[6], 0.01))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessage("baseline must not hold one value throughout");
  }
}
