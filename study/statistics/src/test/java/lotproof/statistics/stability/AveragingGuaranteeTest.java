package lotproof.statistics.stability;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.util.Locale;
import java.util.Random;
import lotproof.statistics.components.GuaranteeReport;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * How good the advised averaging time is: white noise of standard deviation 1 with a random walk of
 * steps q, whose Allan variance 1/m + q² m/3 is known.
 */
@Tag("guarantee")
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
class AveragingGuaranteeTest {
  private static final long SEED = 20261201;
  private static final int CAPTURES = Integer.getInteger("guarantee.studies", 2000);

  private GuaranteeReport report;

  @BeforeAll
  void startReport() throws IOException {
    report = GuaranteeReport.start("guarantees-averaging.md");
  }

  @ParameterizedTest(name = "{0} samples, walk {1}")
  @CsvSource({
    "600, 0",
    "4096, 0",
    "600, 0.1",
    "2000, 0.05",
    "4096, 0.02",
    "4096, 0.2",
    "20000, 0.02"
  })
  void advice(int samples, double walk) throws IOException {
    Random random = new Random(SEED + samples);
    // without a walk the best is the longest that the capture can tell anything about
    double best = walk > 0 ? Math.sqrt(3) / walk : samples / 10.0;
    int tooLong = 0;
    int wasteful = 0;
    double mean = 0;
    for (int i = 0; i < CAPTURES; i++) {
      StabilityStream stream = new StabilityStream();
      double level = 0;
      for (int s = 0; s < samples; s++) {
        level += walk * random.nextGaussian();
        stream.add(level + random.nextGaussian());
      }
      double m = stream.curve(1, 0.95).orElseThrow().shortestNearMinimum().factor();
      tooLong += walk > 0 && m > 2 * best ? 1 : 0;
      wasteful += deviation(m, walk) > 2 * deviation(best, walk) ? 1 : 0;
      mean += Math.log(m / best) / CAPTURES;
    }
    double captures = CAPTURES;
    report.row(
        String.format(
            Locale.ROOT,
            "| %d samples, walk %.2f | %.0f | %.2f | %.3f | %.3f |",
            samples,
            walk,
            best,
            Math.exp(mean),
            tooLong / captures,
            wasteful / captures));
    assertThat(tooLong / captures).isLessThan(0.05);
    assertThat(wasteful / captures).isLessThan(0.05);
  }

  private static double deviation(double m, double walk) {
    return Math.sqrt(1 / m + walk * walk * m / 3);
  }
}
