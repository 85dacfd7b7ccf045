package lotproof.statistics.summary;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.Random;
import lotproof.statistics.Oracle;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class RobustTest {
  private static final Oracle ORACLE = Oracle.load("robust");

  @AfterAll
  static void everyExpectedValueWasChecked() {
    ORACLE.assertAllUsed();
  }

  @ParameterizedTest
  @CsvSource({
    "R1, amc_1989_copper.csv, y",
    "R3 weights, shapiro_wilk_1965_weights.csv, y",
    "R3 zarr13, nist_zarr13.csv, y",
    "R3 randn, nist_randn.csv, y",
    "R3 soulen, nist_soulen.csv, y",
    "R3 rosner, nist_rosner.csv, y",
    "R3 michelso, strd_michelso.csv, y",
    "R3 mpc62, nist_mpc62.csv, y",
    "R3 furnace, nist_furnace.csv, thickness"
  })
  void scalesAndLocations(String id, String file, String column) {
    double[] y = Oracle.column(file, column);
    ORACLE.check(id, "median", Summary.median(y));
    ORACLE.check(id, "MAD", RobustScale.mad(y));
    ORACLE.check(id, "IQR", RobustScale.interquartileRange(y, QuantileRule.N_MINUS_ONE));
    ORACLE.check(id, "Qn", RobustScale.qn(y));
    ORACLE.check(id, "Sn", RobustScale.sn(y));
    ORACLE.check(id, "huber", RobustEstimate.huber(y).orElseThrow().location());
    RobustEstimate both = RobustEstimate.huberProposal2(y).orElseThrow();
    ORACLE.check(id, "hubers location", both.location());
    ORACLE.check(id, "hubers scale", both.scale());
  }

  @Test
  void algorithmA() {
    RobustEstimate estimate =
        RobustEstimate.algorithmA(Oracle.column("amc_1989_copper.csv", "y")).orElseThrow();
    ORACLE.check("R2", "x*", estimate.location());
    ORACLE.check("R2", "s*", estimate.scale());
  }

  @Test
  void allScalesEstimateTheStandardDeviationOfNormalValues() {
    Random random = new Random(20261125);
    double[] y = new double[1500];
    Arrays.setAll(y, i -> 7 + 2 * random.nextGaussian());
    assertThat(RobustScale.mad(y)).isCloseTo(2, within(0.2));
    assertThat(RobustScale.qn(y)).isCloseTo(2, within(0.15));
    assertThat(RobustScale.sn(y)).isCloseTo(2, within(0.15));
    assertThat(RobustEstimate.huberProposal2(y).orElseThrow().scale()).isCloseTo(2, within(0.15));
  }

  @Test
  void withoutScaleThereIsNoEstimate() {
    double[] y = {1, 1, 1, 1, 50};
    assertThat(RobustEstimate.huber(y)).isEmpty();
    assertThat(RobustEstimate.huberProposal2(y)).isEmpty();
    assertThat(RobustEstimate.algorithmA(y)).isEmpty();
  }
}
