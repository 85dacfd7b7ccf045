package lotproof.statistics.capability;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class LotCapabilityTest {
  private static final ProcessLimits LIMITS = ProcessLimits.between(0, 12);

  @Test
  void byHand() {
    // Lot means 4 and 8 with variance 1 within: MSB = 3 (4 + 4) = 24, MSW = 1, n0 = 3.
    LotCapability c =
        LotCapability.of(List.of(new double[] {3, 4, 5}, new double[] {7, 8, 9}), LIMITS, 0.95);
    assertThat(c.withinSd()).isCloseTo(1, within(1e-12));
    assertThat(c.overallSd()).isCloseTo(Math.sqrt(8 + 2.0 / 3), within(1e-12));
    assertThat(c.within().pp().orElseThrow()).isCloseTo(2, within(1e-12));
    assertThat(c.overall().ppk()).isCloseTo(6 / (3 * c.overallSd()), within(1e-12));
    assertThat(c.overall().ppkLowerBound()).isLessThan(c.within().ppkExactLowerBound());
  }

  @Test
  void lotsThatDoNotDifferAreOneSample() {
    LotCapability c =
        LotCapability.of(List.of(new double[] {3, 5}, new double[] {3, 5}), LIMITS, 0.95);
    assertThat(c.overallSd()).isCloseTo(Math.sqrt(4.0 / 3), within(1e-12));
    assertThat(c.overall().ppInterval().orElseThrow().lower())
        .isLessThan(c.within().ppInterval().orElseThrow().lower());
  }

  /** Invented studies: the overall bound keeps its confidence, the within bound does not. */
  @Tag("slow")
  @ParameterizedTest
  @CsvSource({"8, 6, 0.5", "5, 10, 0.25", "3, 16, 0.5", "10, 5, 0"})
  void theOverallBoundKeepsItsConfidenceWhereLotsDiffer(int lots, int each, double share) {
    long seed = 20261125;
    Random random = new Random(seed);
    double truth = 6 / 3.0;
    int studies = 600;
    int overall = 0;
    int within = 0;
    for (int i = 0; i < studies; i++) {
      List<double[]> data = new ArrayList<>();
      for (int l = 0; l < lots; l++) {
        double lot = 6 + Math.sqrt(share) * random.nextGaussian();
        double[] values = new double[each];
        for (int j = 0; j < values.length; j++) {
          values[j] = lot + Math.sqrt(1 - share) * random.nextGaussian();
        }
        data.add(values);
      }
      LotCapability c = LotCapability.of(data, ProcessLimits.atMost(12), 0.95);
      overall += c.overall().ppkLowerBound() <= truth ? 1 : 0;
      within += c.within().ppkExactLowerBound() <= truth ? 1 : 0;
    }
    // 0.95 less three binomial standard errors.
    assertThat(overall / (double) studies).as("seed %s", seed).isGreaterThan(0.923);
    if (share >= 0.25) {
      assertThat(within / (double) studies).as("seed %s", seed).isLessThan(0.85);
    }
  }

  @Test
  void mistakesAreNamed() {
    assertThatThrownBy(() -> LotCapability.of(List.of(new double[] {1, 2}), LIMITS, 0.95))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessage("number of lots must be 2 or above, was 1");
    assertThatThrownBy(
            () -> LotCapability.of(List.of(new double[] {1, 1}, new double[] {2, 2}), LIMITS, 0.9))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessage("lots must hold values that differ within a lot");
  }
}
