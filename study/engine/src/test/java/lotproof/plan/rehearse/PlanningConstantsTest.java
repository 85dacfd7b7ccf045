package lotproof.plan.rehearse;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import lotproof.statistics.ModifiedLargeSample;
import lotproof.statistics.tolerance.DistributionFree;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Planning constants against tables computed apart from this program, to their printed digits. */
class PlanningConstantsTest {
  @ParameterizedTest
  @CsvSource({
    "2, 25, 3.34, 5.95, 8.48, 11.5",
    "4, 12, 1.33, 1.54, 1.84, 2.25",
    "5, 10, 1.28, 1.40, 1.59, 1.89",
    "8, 6, 1.25, 1.29, 1.38, 1.52",
    "10, 5, 1.24, 1.27, 1.32, 1.43",
    "25, 2, 1.23, 1.23, 1.24, 1.26"
  })
  void whatFewLotsCost(
      int lots, int units, double none, double tenth, double quarter, double half) {
    assertThat(ModifiedLargeSample.fewLotsFactor(lots, units, 0, 0.95))
        .isCloseTo(none, within(0.00501));
    assertThat(ModifiedLargeSample.fewLotsFactor(lots, units, 0.1, 0.95))
        .isCloseTo(tenth, within(0.00501));
    assertThat(ModifiedLargeSample.fewLotsFactor(lots, units, 0.25, 0.95))
        .isCloseTo(quarter, within(0.00501));
    double digit = half > 10 ? 0.0501 : 0.00501;
    assertThat(ModifiedLargeSample.fewLotsFactor(lots, units, 0.5, 0.95))
        .isCloseTo(half, within(digit));
  }

  @ParameterizedTest
  @CsvSource({"0.90, 1, 29", "0.90, 2, 46", "0.95, 1, 59", "0.95, 2, 93", "0.99, 1, 299"})
  void kitsWithoutAModel(double content, int rank, int expected) {
    assertThat(DistributionFree.sampleSizeForExtreme(content, 0.95, rank)).isEqualTo(expected);
  }

  @Test
  void impossibleQuestionsAreRefused() {
    assertThatThrownBy(() -> ModifiedLargeSample.fewLotsFactor(1, 10, 0.1, 0.95))
        .hasMessageContaining("2 or above");
  }
}
