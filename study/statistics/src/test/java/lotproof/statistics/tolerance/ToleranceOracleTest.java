package lotproof.statistics.tolerance;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import lotproof.statistics.DistributionQuantiles;
import lotproof.statistics.Oracle;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.Test;

class ToleranceOracleTest {
  private static final Oracle ORACLE = Oracle.load("tolerance");
  private static final String[] CONTENTS = {"0.75", "0.9", "0.95", "0.99"};
  private static final String[] CONFIDENCES = {"0.9", "0.95", "0.99"};

  @AfterAll
  static void everyExpectedValueWasChecked() {
    ORACLE.assertAllUsed();
  }

  @Test
  void keyFactors() {
    two("T2", 50, "0.95", "0.95");
    two("T2", 50, "0.99", "0.95");
    two("T2", 50, "0.90", "0.99");
    two("T2", 50, "0.9973002039367398", "0.95");
    two("T2", 10, "0.95", "0.95");
    two("T2", 2, "0.95", "0.95");
    two("T2", 2, "0.99", "0.99");
    one(50, "0.95", "0.95");
    one(50, "0.99", "0.95");
    one(50, "0.90", "0.95");
    one(10, "0.95", "0.95");
    one(2, "0.99", "0.99");
    one(2, "0.95", "0.99");
    one(2, "0.90", "0.99");
  }

  private static void two(String id, int n, String content, String confidence) {
    double k = NormalTolerance.twoSidedFactor(n, number(content), number(confidence));
    ORACLE.check(id, "two-sided " + n + " " + content + " " + confidence, k);
  }

  private static void one(int n, String content, String confidence) {
    double k = NormalTolerance.oneSidedFactor(n, number(content), number(confidence));
    ORACLE.check("T3", "one-sided " + n + " " + content + " " + confidence, k);
  }

  private static double number(String text) {
    return Double.parseDouble(text);
  }

  @Test
  void handbookExampleOfFortyThree() {
    ORACLE.check("T5", "43 two-sided 0.90 0.99", NormalTolerance.twoSidedFactor(43, 0.9, 0.99));
    ORACLE.check("T5", "43 one-sided 0.90 0.99", NormalTolerance.oneSidedFactor(43, 0.9, 0.99));
    ORACLE.check("T5", "6 one-sided 0.90 0.99", NormalTolerance.oneSidedFactor(6, 0.9, 0.99));
  }

  @Test
  void swappedArgumentsGiveTheWrongFactorThatWasOncePrinted() {
    double swapped = NormalTolerance.twoSidedFactor(43, 0.99, 0.05);
    ORACLE.check("trap 1", "43 two-sided 0.99 0.05", swapped);
    assertThat(NormalTolerance.twoSidedFactor(43, 0.9, 0.99)).isNotCloseTo(swapped, within(0.01));
  }

  @Test
  void olderTablesGiveAFactorThatIsTooSmall() {
    double exact = NormalTolerance.twoSidedFactor(10, 0.95, 0.95);
    ORACLE.check("trap 13", "10 0.95 0.95 two-sided", exact);
    assertThat(exact).isGreaterThan(3.379);
  }

  @Test
  void distributionFreeSampleSizes() {
    for (String content : CONTENTS) {
      for (String confidence : CONFIDENCES) {
        double p = number(content);
        double g = number(confidence);
        ORACLE.check(
            "T7",
            "extreme " + content + " " + confidence,
            DistributionFree.sampleSizeForExtreme(p, g, 1));
      }
    }
  }

  @Test
  void distributionFreeConfidence() {
    for (String content : new String[] {"0.8", "0.9", "0.95", "0.99"}) {
      ORACLE.check(
          "T8", "both " + content, DistributionFree.confidenceOfBothExtremes(50, number(content)));
      if (!content.equals("0.8")) {
        ORACLE.check(
            "T9", "extreme " + content, DistributionFree.confidenceOfExtreme(50, number(content)));
      }
    }
    for (String content : new String[] {"0.75", "0.90", "0.95", "0.975", "0.99", "0.995"}) {
      ORACLE.check(
          "T10",
          "n=25 both " + content,
          DistributionFree.confidenceOfBothExtremes(25, number(content)));
    }
  }

  @Test
  void ranksFromTheEnd() {
    rank("0.75", "0.90");
    rank("0.75", "0.95");
    rank("0.75", "0.99");
    rank("0.90", "0.90");
    rank("0.90", "0.95");
    rank("0.90", "0.99");
    rank("0.95", "0.90");
    assertThat(DistributionFree.rankFromEnd(50, 0.95, 0.95)).isEmpty();
    assertThat(DistributionFree.rankFromEnd(50, 0.95, 0.99)).isEmpty();
  }

  private static void rank(String content, String confidence) {
    ORACLE.check(
        "T11",
        "n=50 rank " + content + " " + confidence,
        DistributionFree.rankFromEnd(50, number(content), number(confidence)).orElseThrow());
  }

  @Test
  void theQuantileOfTheContentKeepsItsDigitsFarOut() {
    double z = NormalTolerance.oneSidedContentQuantile(50, 49, 12, 0.95);
    double content = DistributionQuantiles.normal(0.95);
    assertThat(z).isBetween(9.0, 12.0).isNotEqualTo(content);
    assertThat(NormalTolerance.oneSidedContentQuantile(1e9, 1e9, 3, 0.95))
        .isCloseTo(3, within(1e-3));
  }
}
