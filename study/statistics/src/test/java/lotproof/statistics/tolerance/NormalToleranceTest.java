package lotproof.statistics.tolerance;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import de.siegmar.fastcsv.reader.NamedCsvRecord;
import java.util.SplittableRandom;
import java.util.function.BiConsumer;
import lotproof.statistics.DistributionQuantiles;
import lotproof.statistics.Oracle;
import org.apache.commons.statistics.distribution.NormalDistribution;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class NormalToleranceTest {
  private static final double[] CONTENTS = {0.5, 0.75, 0.9, 0.95, 0.99, 0.999};
  private static final double[] CONFIDENCES = {0.05, 0.5, 0.9, 0.95, 0.99, 0.999};
  private static final int[] SIZES = {2, 3, 4, 6, 10, 25, 50, 200, 1000};

  @Test
  void bothFactorsAgreeWithTheTableOfHighPrecisionQuadrature() {
    forEach(
        "tolerance_factors_normal.csv",
        (row, name) -> {
          int n = Integer.parseInt(row.getField("n"));
          double content = number(row, "coverage");
          double confidence = number(row, "confidence");
          double two = number(row, "k2_two_sided_exact");
          double one = number(row, "k1_one_sided_exact");
          assertThat(NormalTolerance.twoSidedFactor(n, content, confidence))
              .as("two-sided %s", name)
              .isCloseTo(two, within(1e-9 * two));
          assertThat(NormalTolerance.oneSidedFactor(n, content, confidence))
              .as("one-sided %s", name)
              .isCloseTo(one, within(1e-9 * one));
        });
  }

  @Test
  void twoSidedFactorsOfSeveralSamplesRoundUpToThePublishedOnes() {
    forEach(
        "tolerance_iso16269_6_annexF_sample.csv",
        (row, name) -> {
          boolean endless = row.getField("n_each").equals("inf");
          double content = number(row, "coverage");
          double k = DistributionQuantiles.normal((1 + content) / 2);
          if (!endless) {
            double each = number(row, "n_each");
            double df = number(row, "m_samples") * (each - 1);
            k = NormalTolerance.twoSidedFactor(each, df, content, number(row, "confidence"));
          }
          double rounded = Math.ceil(k * 1e4 - 1e-6) / 1e4;
          assertThat(rounded)
              .as("%s", name)
              .isCloseTo(number(row, "published_rounded_up_4dp"), within(1e-9));
        });
  }

  @Test
  void oneSidedFactorsAgreeWithThePublishedTable() {
    forEach(
        "tolerance_onesided_montgomery_runger.csv",
        (row, name) -> {
          int n = Integer.parseInt(row.getField("n"));
          double content = number(row, "coverage");
          double confidence = number(row, "confidence");
          double k = NormalTolerance.oneSidedFactor(n, content, confidence);
          assertThat(k)
              .as("computed %s", name)
              .isCloseTo(number(row, "computed"), within(1e-8 * k));
          boolean misprint = n == 20 && content == 0.95 && confidence == 0.9;
          if (!misprint) {
            assertThat(k)
                .as("published %s", name)
                .isCloseTo(number(row, "published_3dp"), within(5.1e-4));
          }
        });
  }

  @Test
  void factorsGrowWithContentAndConfidenceAndShrinkWithTheSample() {
    for (int n : SIZES) {
      for (double content : CONTENTS) {
        double before1 = Double.NEGATIVE_INFINITY;
        double before2 = 0;
        for (double confidence : CONFIDENCES) {
          double one = NormalTolerance.oneSidedFactor(n, content, confidence);
          double two = NormalTolerance.twoSidedFactor(n, content, confidence);
          assertThat(one).as("one-sided, %s %s", n, content).isGreaterThan(before1);
          assertThat(two).as("two-sided, %s %s", n, content).isGreaterThan(before2);
          before1 = one;
          before2 = two;
        }
      }
      for (double confidence : CONFIDENCES) {
        double before1 = Double.NEGATIVE_INFINITY;
        double before2 = 0;
        for (double content : CONTENTS) {
          double one = NormalTolerance.oneSidedFactor(n, content, confidence);
          double two = NormalTolerance.twoSidedFactor(n, content, confidence);
          assertThat(one).isGreaterThan(before1);
          assertThat(two).isGreaterThan(before2);
          before1 = one;
          before2 = two;
        }
      }
    }
    for (double content : new double[] {0.9, 0.99}) {
      double before1 = Double.POSITIVE_INFINITY;
      double before2 = Double.POSITIVE_INFINITY;
      for (int n : SIZES) {
        double one = NormalTolerance.oneSidedFactor(n, content, 0.95);
        double two = NormalTolerance.twoSidedFactor(n, content, 0.95);
        assertThat(one).isLessThan(before1);
        assertThat(two).isLessThan(before2);
        before1 = one;
        before2 = two;
      }
    }
  }

  @ParameterizedTest
  @ValueSource(longs = {20261125L, 7L, 991L})
  void randomArgumentsKeepTheLawsOfTheFactors(long seed) {
    SplittableRandom random = new SplittableRandom(seed);
    for (int i = 0; i < 60; i++) {
      double n = Math.exp(random.nextDouble(Math.log(0.3), Math.log(3000)));
      double df = Math.exp(random.nextDouble(Math.log(0.6), Math.log(3000)));
      double content = random.nextDouble(0.02, 0.9995);
      double confidence = random.nextDouble(0.01, 0.999);
      String at = "seed " + seed + ": " + n + " " + df + " " + content + " " + confidence;
      double one = NormalTolerance.oneSidedFactor(n, df, content, confidence);
      double quantile = NormalTolerance.oneSidedContentQuantile(n, df, one, confidence);
      assertThat(NormalDistribution.of(0, 1).cumulativeProbability(quantile))
          .as(at)
          .isCloseTo(content, within(1e-9));
      // Mirror: what lies above with a confidence lies below with the rest.
      assertThat(NormalTolerance.oneSidedFactor(n, df, 1 - content, 1 - confidence))
          .as(at)
          .isCloseTo(-one, within(1e-9 * Math.max(1, Math.abs(one))));
    }
  }

  @ParameterizedTest
  @CsvSource({"0.9, 0.95", "0.99, 0.9", "0.5, 0.5"})
  void aHugeSampleGivesTheNormalQuantile(double content, double confidence) {
    double z = DistributionQuantiles.normal((1 + content) / 2);
    assertThat(NormalTolerance.twoSidedFactor(1e11, 1e9, content, confidence))
        .isCloseTo(z, within(2e-4));
  }

  @ParameterizedTest
  @CsvSource({
    "1, 0.95, 0.95, n",
    "10, 0, 0.95, content",
    "10, 1, 0.95, content",
    "10, NaN, 0.95, content",
    "10, 0.95, 1, confidence",
    "10, 0.95, NaN, confidence"
  })
  void mistakesAreNamed(int n, double content, double confidence, String argument) {
    assertThatThrownBy(() -> NormalTolerance.twoSidedFactor(n, content, confidence))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessageStartingWith(argument + " must");
    assertThatThrownBy(() -> NormalTolerance.oneSidedFactor(n, content, confidence))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessageStartingWith(argument + " must");
  }

  /** Far from the limit the mean counts nothing: the closed form meets what is integrated. */
  @ParameterizedTest
  @CsvSource({"20, 19, 0.95", "20, 19, 0.05", "50, 8.5, 0.95", "3, 2, 0.9", "400, 60, 0.99"})
  void aLimitFarAwayGivesTheSameContentByBothWays(double n, double nu, double confidence) {
    double edge = Math.sqrt(1e6 * (1 + nu) / n);
    for (int sign : new int[] {1, -1}) {
      double inside =
          NormalTolerance.oneSidedContentQuantile(n, nu, sign * 0.9999 * edge, confidence);
      double beyond =
          NormalTolerance.oneSidedContentQuantile(n, nu, sign * 1.0001 * edge, confidence);
      assertThat(beyond / (1.0001 * edge)).isCloseTo(inside / (0.9999 * edge), within(5e-6));
    }
  }

  private static void forEach(String file, BiConsumer<NamedCsvRecord, String> check) {
    var rows = Oracle.table(file);
    assertThat(rows).isNotEmpty();
    rows.forEach(row -> check.accept(row, row.getFields().toString()));
  }

  private static double number(NamedCsvRecord row, String column) {
    return Double.parseDouble(row.getField(column));
  }
}
