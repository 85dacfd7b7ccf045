package lotproof.statistics.tolerance;

import static org.assertj.core.api.Assertions.within;

import de.siegmar.fastcsv.reader.NamedCsvRecord;
import lotproof.statistics.Oracle;
import org.assertj.core.api.SoftAssertions;
import org.junit.jupiter.api.Test;

class NormalToleranceTest {
  @Test
  void bothFactorsAgreeWithTheTableOfHighPrecisionQuadrature() {
    SoftAssertions softly = new SoftAssertions();
    for (NamedCsvRecord row : Oracle.table("tolerance_factors_normal.csv")) {
      int n = Integer.parseInt(row.getField("n"));
      double content = number(row, "coverage");
      double confidence = number(row, "confidence");
      double two = number(row, "k2_two_sided_exact");
      double one = number(row, "k1_one_sided_exact");
      softly
          .assertThat(NormalTolerance.twoSidedFactor(n, content, confidence))
          .as("two-sided %s", row.getFields())
          .isCloseTo(two, within(1e-9 * two));
      softly
          .assertThat(NormalTolerance.oneSidedFactor(n, content, confidence))
          .as("one-sided %s", row.getFields())
          .isCloseTo(one, within(1e-9 * one));
    }
    softly.assertAll();
  }

  private static double number(NamedCsvRecord row, String column) {
    return Double.parseDouble(row.getField(column));
  }
}
