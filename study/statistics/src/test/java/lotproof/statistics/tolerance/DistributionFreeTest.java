package lotproof.statistics.tolerance;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.OptionalInt;
import java.util.SplittableRandom;
import org.apache.commons.statistics.distribution.BinomialDistribution;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class DistributionFreeTest {
  /** Sizes for the largest, second and third largest value; textbook values, recomputed. */
  @ParameterizedTest
  @CsvSource({"0.90, 0.95, 29, 46, 61", "0.95, 0.95, 59, 93, 124", "0.99, 0.95, 299, 473, 628"})
  void sampleSizesByRank(double content, double confidence, int first, int second, int third) {
    assertThat(DistributionFree.sampleSizeForExtreme(content, confidence, 1)).isEqualTo(first);
    assertThat(DistributionFree.sampleSizeForExtreme(content, confidence, 2)).isEqualTo(second);
    assertThat(DistributionFree.sampleSizeForExtreme(content, confidence, 3)).isEqualTo(third);
  }

  @Test
  void fiftyUnitsSupportAContentOfNinetyFourPercent() {
    assertThat(DistributionFree.contentOfExtreme(50, 0.95)).isCloseTo(0.9418, within(5e-5));
  }

  @ParameterizedTest
  @ValueSource(longs = {11L, 20261125L})
  void randomArgumentsKeepTheLaws(long seed) {
    SplittableRandom random = new SplittableRandom(seed);
    for (int i = 0; i < 300; i++) {
      int n = random.nextInt(2, 900);
      double content = random.nextDouble(0.3, 0.999);
      double confidence = random.nextDouble(0.05, 0.995);
      String at = "seed " + seed + ": " + n + " " + content + " " + confidence;
      int rank = random.nextInt(1, n + 1);
      assertThat(DistributionFree.confidenceOfRank(n, content, rank))
          .as(at)
          .isCloseTo(
              BinomialDistribution.of(n, 1 - content).survivalProbability(rank - 1), within(1e-11));
      OptionalInt supported = DistributionFree.rankFromEnd(n, content, confidence);
      int r = supported.orElse(0);
      if (r >= 1) {
        assertThat(DistributionFree.confidenceOfRank(n, content, r))
            .as(at)
            .isGreaterThanOrEqualTo(confidence);
      }
      if (r < n) {
        assertThat(DistributionFree.confidenceOfRank(n, content, r + 1))
            .as(at)
            .isLessThan(confidence);
      }
      int size = DistributionFree.sampleSizeForExtreme(content, confidence, 2);
      assertThat(DistributionFree.confidenceOfRank(size, content, 2))
          .as(at)
          .isGreaterThanOrEqualTo(confidence);
      if (size > 2) {
        assertThat(DistributionFree.confidenceOfRank(size - 1, content, 2))
            .as(at)
            .isLessThan(confidence);
      }
      double one = DistributionFree.contentOfExtreme(n, confidence);
      assertThat(DistributionFree.confidenceOfExtreme(n, one))
          .as(at)
          .isCloseTo(confidence, within(1e-12));
    }
  }

  @Test
  void mistakesAreNamed() {
    assertThatThrownBy(() -> DistributionFree.confidenceOfRank(5, 0.9, 6))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessage("rankFromEnd must lie in 1..5, was 6");
    assertThatThrownBy(() -> DistributionFree.confidenceOfBothExtremes(1, 0.9))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessage("n must be 2 or above, was 1");
    assertThatThrownBy(() -> DistributionFree.contentOfExtreme(3, Double.NaN))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessageContaining("confidence must lie between 0 and 1");
  }
}
