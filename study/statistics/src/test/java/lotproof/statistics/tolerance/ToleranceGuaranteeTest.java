package lotproof.statistics.tolerance;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.Random;
import lotproof.statistics.summary.Summary;
import org.apache.commons.statistics.distribution.NormalDistribution;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** 95 % confidence is 95 %: simulated samples, each judged against the population it came from. */
@Tag("slow")
class ToleranceGuaranteeTest {
  private static final NormalDistribution NORMAL = NormalDistribution.of(0, 1);
  private static final int STUDIES = 40_000;

  @ParameterizedTest
  @CsvSource({"3, 0.9, 0.95", "10, 0.95, 0.95", "50, 0.95, 0.95", "50, 0.99, 0.9", "20, 0.8, 0.5"})
  void limitsHoldTheirContentAsOftenAsStated(int n, double content, double confidence) {
    long seed = 20261125;
    Random random = new Random(seed);
    double one = NormalTolerance.oneSidedFactor(n, content, confidence);
    double two = NormalTolerance.twoSidedFactor(n, content, confidence);
    int heldOne = 0;
    int heldTwo = 0;
    int heldMax = 0;
    double[] y = new double[n];
    for (int i = 0; i < STUDIES; i++) {
      Arrays.setAll(y, j -> random.nextGaussian());
      double mean = Summary.mean(y);
      double sd = Summary.sd(y);
      heldOne += NORMAL.cumulativeProbability(mean + one * sd) >= content ? 1 : 0;
      double inside = NORMAL.probability(mean - two * sd, mean + two * sd);
      heldTwo += inside >= content ? 1 : 0;
      heldMax +=
          NORMAL.cumulativeProbability(Arrays.stream(y).max().orElseThrow()) >= content ? 1 : 0;
    }
    String at = "seed " + seed;
    double error = 4 * Math.sqrt(confidence * (1 - confidence) / STUDIES);
    assertThat(heldOne / (double) STUDIES).as(at).isCloseTo(confidence, within(error));
    assertThat(heldTwo / (double) STUDIES).as(at).isCloseTo(confidence, within(error));
    double extreme = DistributionFree.confidenceOfExtreme(n, content);
    assertThat(heldMax / (double) STUDIES).as(at).isCloseTo(extreme, within(0.01));
  }
}
