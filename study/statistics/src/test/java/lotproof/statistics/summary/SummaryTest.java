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
    Summary summary = Summary.of(y);
    ORACLE.check(id, "mean", summary.mean());
    ORACLE.check(id, "sd", summary.sd());
    ORACLE.check(id, "r1", Summary.autocorrelation(y, 1));
    if (id.matches("U[3478]")) {
      ORACLE.check(id, "sd of the doubles", summary.sd());
      ORACLE.check(id, "r1 of the doubles", Summary.autocorrelation(y, 1));
    }
  }

  @Test
  void heatFlowMeter() {
    double[] y = Oracle.column("nist_zarr13.csv", "y");
    Summary summary = Summary.of(y);
    assertThat(summary.n()).isEqualTo(195);
    ORACLE.check("U9", "mean", summary.mean());
    ORACLE.check("U9", "sd", summary.sd());
    ORACLE.check("U9", "r1", Summary.autocorrelation(y, 1));
    Interval mean = summary.meanInterval(0.95);
    ORACLE.check("U9", "mean lower", mean.lower());
    ORACLE.check("U9", "mean upper", mean.upper());
    ORACLE.check("U9", "mean lower printed", mean.lower());
    ORACLE.check("U9", "mean upper printed", mean.upper());
    Interval sd = summary.sdInterval(0.95);
    ORACLE.check("U9", "sd lower", sd.lower());
    ORACLE.check("U9", "sd upper", sd.upper());
    ORACLE.check("U9", "t against 5", summary.studentStatistic(5));
  }

  @Test
  void checkStandard() {
    Summary summary = Summary.of(Oracle.column("nist_mpc62.csv", "y"));
    ORACLE.check("U10", "mean", summary.mean());
    ORACLE.check("U10", "sd", summary.sd());
  }

  @Test
  void quantilesByRule() {
    double[] y = Oracle.column("nist_7252_percentile.csv", "y");
    for (QuantileRule rule : QuantileRule.values()) {
      ORACLE.check("U12", rule.formula(), Summary.quantile(y, 0.9, rule));
    }
  }

  @ParameterizedTest
  @ValueSource(ints = {2, 3, 5, 10, 20, 25, 30, 50, 100})
  void unbiasingOfTheStandardDeviation(int n) {
    ORACLE.check("c4", Integer.toString(n), Summary.c4(n));
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
    Summary before = Summary.of(y);
    Summary after = Summary.of(moved);
    assertThat(after.mean()).as("seed %s", seed).isCloseTo(1024 - 8 * before.mean(), within(1e-12));
    assertThat(after.sd()).isCloseTo(8 * before.sd(), within(1e-12));
    assertThat(after.median()).isCloseTo(1024 - 8 * before.median(), within(1e-12));
    assertThat(after.max()).isCloseTo(1024 - 8 * before.min(), within(1e-12));
  }

  @Test
  void quantilesBeyondTheSampleStopAtItsEnds() {
    double[] y = {3, 1, 2};
    assertThat(Summary.quantile(y, 0.001, QuantileRule.N_PLUS_ONE)).isEqualTo(1);
    assertThat(Summary.quantile(y, 0.999, QuantileRule.N_PLUS_ONE)).isEqualTo(3);
    assertThat(Summary.quantile(y, 0.5, QuantileRule.MIDWAY)).isEqualTo(2);
  }

  @Test
  void mistakesAreNamed() {
    assertThatThrownBy(() -> Summary.of(new double[] {1}))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessage("values must hold at least 2 values, held 1");
    assertThatThrownBy(() -> Summary.of(new double[] {1, Double.NaN}))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessage("values[1] must be a finite number, was NaN");
    assertThatThrownBy(() -> Summary.autocorrelation(new double[] {2, 2, 2}, 1))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessage("values must not all be equal");
  }
}
