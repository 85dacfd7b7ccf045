package lotproof.statistics.components;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import lotproof.statistics.components.Observations.FixedColumn;
import org.apache.commons.rng.UniformRandomProvider;
import org.apache.commons.rng.sampling.distribution.NormalizedGaussianSampler;
import org.apache.commons.rng.sampling.distribution.ZigguratSampler;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** How often the interval of a slope holds the true one where residuals have memory. */
@Tag("guarantee")
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
class EffectGuaranteeTest {
  private static final double FLOOR = 0.93;

  private GuaranteeReport report;

  @BeforeAll
  void startReport() throws IOException {
    report = GuaranteeReport.start("guarantees-effects.md");
  }

  @ParameterizedTest(name = "{0} units of {1}, memory {2}, slopes {3}, {4}")
  @CsvSource({
    "20, 6, 0, 0, SLOW", "20, 6, 0, 0, WHITE", "10, 10, 0.7, 0, SLOW", "20, 6, 0.7, 0, SLOW",
    "20, 6, 0.4, 0, SLOW", "20, 6, 0.7, 0, WHITE", "20, 6, 0, 0.3, WHITE", "50, 3, 0, 0.3, SLOW",
    "10, 10, 0, 0.3, WHITE", "40, 5, 0.85, 0, SLOW", "12, 12, 0, 1, SLOW",
  })
  void slopes(int units, int readings, double memory, double slopes, Course course)
      throws IOException {
    UniformRandomProvider random = Studies.random(LimitsTally.SEED + units + readings);
    int held = 0;
    int plain = 0;
    int doubted = 0;
    for (int i = 0; i < LimitsTally.STUDIES; i++) {
      Observations drawn = draw(random, units, readings, memory, slopes, course);
      ComponentsFit fit = (ComponentsFit) ComponentsFitter.fit(drawn, FitOptions.REML);
      FixedEffectIntervals.Estimate e = FixedEffectIntervals.of(fit, 0.95).get(0);
      held += e.interval().contains(0) ? 1 : 0;
      doubted += e.doubt() == FixedEffectIntervals.Doubt.NONE ? 0 : 1;
      double model = fit.fixedEffects().get(0).standardError();
      plain += Math.abs(e.effect().estimate()) < 2 * model ? 1 : 0;
    }
    double studies = LimitsTally.STUDIES;
    report.row(
        String.format(
            Locale.ROOT,
            "| %d units of %d readings, memory %.2f, slopes %.1f, %s | %.3f | %.3f | %.3f |",
            units,
            readings,
            memory,
            slopes,
            course,
            plain / studies,
            held / studies,
            doubted / studies));
    assertThat(held / studies).isGreaterThan(FLOOR - 3 * Math.sqrt(FLOOR * (1 - FLOOR) / studies));
  }

  enum Course {
    SLOW,
    WHITE
  }

  private static Observations draw(
      UniformRandomProvider random,
      int units,
      int readings,
      double memory,
      double slopes,
      Course course) {
    NormalizedGaussianSampler normal = ZigguratSampler.NormalizedGaussian.of(random);
    int n = units * readings;
    double[] unit = Studies.draws(normal, units, 1);
    double[] slope = Studies.draws(normal, units, slopes);
    double[] x = new double[n];
    double[] values = new double[n];
    List<Integer> levels = new ArrayList<>();
    double noise = normal.sample();
    for (int i = 0; i < n; i++) {
      int u = i % units;
      levels.add(u);
      x[i] =
          course == Course.WHITE ? normal.sample() : Math.sin(2 * Math.PI * i / n) + i / (double) n;
      values[i] = unit[u] + slope[u] * x[i] + 0.5 * noise;
      noise = memory * noise + Math.sqrt(1 - memory * memory) * normal.sample();
    }
    return new Observations(
        values,
        List.of(Studies.numbered("cell", levels)),
        List.of(new FixedColumn("temperature", x)));
  }
}
