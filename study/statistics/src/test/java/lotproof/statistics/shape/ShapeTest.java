package lotproof.statistics.shape;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.SplittableRandom;
import lotproof.statistics.Oracle;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class ShapeTest {
  private static final Oracle ORACLE = Oracle.load("shape");

  @AfterAll
  static void everyExpectedValueWasChecked() {
    ORACLE.assertAllUsed();
  }

  @ParameterizedTest
  @CsvSource({
    "N1, nist_zarr13.csv, y",
    "N2, nist_randn.csv, y",
    "N3, nist_soulen.csv, y",
    "N5, shapiro_wilk_1965_weights.csv, y",
    "N6, nist_rosner.csv, y",
    "N7, strd_michelso.csv, y",
    "N8, nist_mpc62.csv, y",
    "N9, nist_furnace.csv, thickness"
  })
  void bothTestsOfNormality(String id, String file, String column) {
    double[] y = Oracle.column(file, column);
    AndersonDarling anderson = AndersonDarling.test(y);
    ORACLE.check(id, "A2", anderson.statistic());
    if (id.equals("N3")) {
      assertThat(anderson.pValue()).isLessThan(1e-20);
    } else {
      ORACLE.check(id, "p(A2)", anderson.pValue());
    }
    ShapiroWilk shapiro = ShapiroWilk.test(y);
    ORACLE.check(id, "W", shapiro.statistic());
    ORACLE.check(id, "p(W)", shapiro.pValue());
  }

  @Test
  void andersonDarlingOnFourShapes() {
    for (String shape : new String[] {"normal", "double_exponential", "cauchy", "lognormal"}) {
      double[] y = Oracle.column("nist_eda35e_r_samples.csv", shape);
      ORACLE.check("N4", shape, AndersonDarling.test(y).statistic());
    }
    double[] y = Oracle.column("nist_eda35e_r_samples.csv", "normal");
    ORACLE.check("N4", "p normal", AndersonDarling.test(y).pValue());
  }

  /** Trap 6: a raw value once printed as the adjusted one. */
  @Test
  void theRawStatisticIsNotTheAdjustedOne() {
    AndersonDarling test = AndersonDarling.test(Oracle.column("nist_randn.csv", "y"));
    assertThat(test.statistic()).isCloseTo(1.0612, within(5e-5));
    assertThat(test.adjusted()).isCloseTo(1.06283808861752, within(1e-10));
  }

  /** Trap 10: n - 2, not n - 1, stands under the adjusted skewness. */
  @Test
  void adjustedMoments() {
    Moments moments = Moments.of(Oracle.column("nist_zarr13.csv", "y"));
    ORACLE.check("U11", "G1", moments.adjustedSkewness());
    ORACLE.check("U11", "G2", moments.excessKurtosis());
    // g1 of these five values is 1.5
    assertThat(Moments.of(new double[] {0, 0, 0, 0, 1}).adjustedSkewness() / 1.5)
        .isCloseTo(1.49, within(5e-3));
  }

  @ParameterizedTest
  @ValueSource(longs = {5L, 20261125L})
  void shiftScaleAndOrderDoNotMatter(long seed) {
    SplittableRandom random = new SplittableRandom(seed);
    for (int n : new int[] {8, 11, 12, 40, 300}) {
      double[] y = random.doubles(n).toArray();
      double[] moved = new double[n];
      for (int i = 0; i < n; i++) {
        moved[n - 1 - i] = 64 + 4 * y[i];
      }
      String at = "seed " + seed + ", n " + n;
      assertThat(ShapiroWilk.test(moved).statistic())
          .as(at)
          .isCloseTo(ShapiroWilk.test(y).statistic(), within(1e-11));
      assertThat(AndersonDarling.test(moved).statistic())
          .as(at)
          .isCloseTo(AndersonDarling.test(y).statistic(), within(1e-9));
      assertThat(Moments.of(moved).excessKurtosis())
          .as(at)
          .isCloseTo(Moments.of(y).excessKurtosis(), within(1e-10));
    }
  }

  /** W and p have closed forms for three values; scipy 1.17.1 shapiro([1, 2, 4]) agrees. */
  @Test
  void threeValues() {
    ShapiroWilk test = ShapiroWilk.test(new double[] {4, 1, 2});
    assertThat(test.statistic()).isCloseTo(27.0 / 28, within(1e-12));
    assertThat(test.pValue()).isCloseTo(0.6368868450289689, within(1e-9));
  }

  @Test
  void anOutlierFarBeyondTheReachOfTheNormalTailIsFinite() {
    double[] y = new double[3000];
    Arrays.setAll(y, i -> Math.sin(i));
    y[17] = 1e9;
    assertThat(AndersonDarling.test(y).statistic()).isFinite().isGreaterThan(100);
    assertThat(AndersonDarling.test(y).pValue()).isLessThan(1e-20);
  }

  @Test
  void mistakesAreNamed() {
    assertThatThrownBy(() -> AndersonDarling.test(new double[] {1, 2, 3}))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessage("values must hold at least 8 values, held 3");
    assertThatThrownBy(() -> ShapiroWilk.test(new double[] {2, 2, 2}))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessage("values must not all be equal");
  }
}
