package lotproof.statistics.summary;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.SplittableRandom;
import lotproof.statistics.Interval;
import lotproof.statistics.Oracle;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class SummaryTest {
  private static final Oracle ORACLE = Oracle.load("summary");

  @AfterAll
  static void everyExpectedValueWasChecked() {
    ORACLE.assertAllUsed();
  }

  @ParameterizedTest
  @CsvSource({
    "U1, lew",
    "U2, lottery",
    "U3, mavro",
    "U4, michelso",
    "U5, numacc1",
    "U6, numacc2",
    "U7, numacc3",
    "U8, numacc4"
  })
  void certifiedReferenceData(String id, String name) {
    double[] y = Oracle.column("strd_" + name + ".csv", "y");
    ORACLE.check(id, "mean", Summary.mean(y));
    ORACLE.check(id, "sd", Summary.sd(y));
    ORACLE.check(id, "r1", Summary.autocorrelation(y, 1));
    if (id.matches("U[3478]")) {
      ORACLE.check(id, "sd of the doubles", Summary.sd(y));
      ORACLE.check(id, "r1 of the doubles", Summary.autocorrelation(y, 1));
    }
  }

  @Test
  void heatFlowMeter() {
    double[] y = Oracle.column("nist_zarr13.csv", "y");
    ORACLE.check("U9", "mean", Summary.mean(y));
    ORACLE.check("U9", "sd", Summary.sd(y));
    ORACLE.check("U9", "r1", Summary.autocorrelation(y, 1));
    Interval sd = Interval.ofStandardDeviation(Summary.sd(y), 194, 0.95);
    ORACLE.check("U9", "sd lower", sd.lower());
    ORACLE.check("U9", "sd upper", sd.upper());
  }

  @Test
  void checkStandard() {
    double[] y = Oracle.column("nist_mpc62.csv", "y");
    ORACLE.check("U10", "mean", Summary.mean(y));
    ORACLE.check("U10", "sd", Summary.sd(y));
  }

  @ParameterizedTest
  @ValueSource(longs = {3L, 20261125L})
  void shiftScaleAndOrderDoNotMatter(long seed) {
    SplittableRandom random = new SplittableRandom(seed);
    double[] y = random.doubles(60).toArray();
    double[] moved = new double[y.length];
    for (int i = 0; i < y.length; i++) {
      moved[y.length - 1 - i] = 1024 - 8 * y[i];
    }
    assertThat(Summary.mean(moved))
        .as("seed %s", seed)
        .isCloseTo(1024 - 8 * Summary.mean(y), within(1e-12));
    assertThat(Summary.sd(moved)).isCloseTo(8 * Summary.sd(y), within(1e-12));
    assertThat(Summary.median(moved)).isCloseTo(1024 - 8 * Summary.median(y), within(1e-12));
  }

  @Test
  void mistakesAreNamed() {
    assertThatThrownBy(() -> Summary.sd(new double[] {1}))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessage("values must hold at least 2 values, held 1");
    assertThatThrownBy(() -> Summary.mean(new double[] {1, Double.NaN}))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessage("values[1] must be a finite number, was NaN");
    assertThatThrownBy(() -> Summary.autocorrelation(new double[] {2, 2, 2}, 1))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessage("values must not all be equal");
  }

  @Test
  void valuesOnAGridHaveItsStep() {
    assertThat(Summary.step(new double[] {0, 1, 0, 0, 1})).isEqualTo(1);
    assertThat(Summary.step(new double[] {2.5, 10, 2.5, 10, 17.5, 17.5})).isEqualTo(7.5);
    assertThat(Summary.step(new double[] {5, 15, 35, 60, 80, 95, 130, 145, 150, 165})).isEqualTo(5);
    // 0.1 + 0.2 is not 0.3 to the last bit, and -0 is 0
    assertThat(Summary.step(new double[] {0.3, 0.1 + 0.2, 0.6, 0.6, -0.0, 0.0}))
        .isCloseTo(0.3, within(1e-12));
    assertThat(Summary.step(new double[] {4, 4, 4})).isZero();
  }

  @Test
  void scatteredAndFewValuesHaveTheStepOfTheirLastDigit() {
    assertThat(Summary.step(new double[] {1.234, 7.1, 3.98, -12.5})).isEqualTo(0.001);
    assertThat(Summary.step(new double[] {100, 4310, 99870, 25000})).isEqualTo(10);
    assertThat(Summary.step(new double[] {10, 14})).isEqualTo(1);
  }
}
