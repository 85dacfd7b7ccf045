package lotproof.statistics.sequence;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.List;
import java.util.Random;
import java.util.stream.IntStream;
import lotproof.statistics.Interval;
import lotproof.statistics.Oracle;
import lotproof.statistics.homogeneity.BrownForsythe;
import lotproof.statistics.summary.Summary;
import org.apache.commons.statistics.distribution.TDistribution;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class SequenceTest {
  private static final Oracle ORACLE = Oracle.load("sequence");

  @AfterAll
  static void everyExpectedValueWasChecked() {
    ORACLE.assertAllUsed();
  }

  @Test
  void driftOfAStandardResistor() {
    double[] y = Oracle.column("nist_dziuba1.csv", "resistance");
    Trend trend = Trend.of(y);
    ORACLE.check("S5", "slope", trend.slope());
    ORACLE.check("S5", "slope standard error", trend.ordinaryStandardError());
    ORACLE.check("S5", "t", trend.slope() / trend.ordinaryStandardError());
    ORACLE.check("S5", "residual sd", trend.residualSd());
    ORACLE.check("S5", "r1", Summary.autocorrelation(y, 1));
    ORACLE.check("S5", "mean", Summary.mean(y));
    ORACLE.check("S5", "sd", Summary.sd(y));
    Interval sd = Interval.ofStandardDeviation(Summary.sd(y), 999, 0.95);
    ORACLE.check("S5", "sd lower", sd.lower());
    ORACLE.check("S5", "sd upper", sd.upper());
    List<double[]> blocks =
        IntStream.range(0, 4).mapToObj(i -> Arrays.copyOfRange(y, 250 * i, 250 * i + 250)).toList();
    ORACLE.check(
        "S5",
        "Brown-Forsythe in four blocks",
        BrownForsythe.test(blocks).orElseThrow().statistic());
    assertThat(trend.adjustedStandardError()).isGreaterThan(1.5 * trend.ordinaryStandardError());
  }

  @Test
  void slopeOfTheHeatFlowMeter() {
    double[] y = Oracle.column("nist_zarr13.csv", "y");
    Trend trend = Trend.of(y);
    ORACLE.check("S6", "slope", trend.slope());
    ORACLE.check("S6", "standard error", trend.ordinaryStandardError());
    ORACLE.check("S6", "t", trend.slope() / trend.ordinaryStandardError());
    double p = ordinaryPValue(trend, y.length);
    ORACLE.check("S6", "p", p);
    assertThat(trend.adjustedPValue()).isGreaterThan(p);
  }

  /** Two-sided chance of so steep a slope as if the readings had no memory. */
  private static double ordinaryPValue(Trend trend, int n) {
    double t = Math.abs(trend.slope() / trend.ordinaryStandardError());
    return 2 * TDistribution.of(n - 2.0).survivalProbability(t);
  }

  @Test
  void runsAboutTheMedian() {
    double[] y = Oracle.column("nist_zarr13.csv", "y");
    RunsTest test = RunsTest.aboutMedian(y).orElseThrow();
    ORACLE.check("S7", "Z ties dropped", test.statistic());
    assertThat(test.pValue()).isBetween(0.0015, 0.002);
  }

  @Test
  void valuesOnOneSideHaveNoRuns() {
    assertThat(RunsTest.aboutMedian(new double[] {3, 3, 3, 3})).isEmpty();
    assertThat(RunsTest.aboutMedian(new double[] {3, 3, 4})).isEmpty();
  }

  @Test
  void autocorrelationsOfADeflectedBeam() {
    double[] y = Oracle.column("strd_lew.csv", "y");
    for (int lag = 1; lag <= 5; lag++) {
      ORACLE.check("S8", "lag " + lag, Summary.autocorrelation(y, lag));
    }
  }

  @ParameterizedTest
  @ValueSource(longs = {1L, 20261125L})
  void memoryWithoutATrendSeldomLooksLikeOne(long seed) {
    Random random = new Random(seed);
    int ordinary = 0;
    int honest = 0;
    int studies = 400;
    for (int i = 0; i < studies; i++) {
      double[] y = new double[120];
      double state = random.nextGaussian() / Math.sqrt(1 - 0.36);
      for (int t = 0; t < y.length; t++) {
        state = 0.6 * state + random.nextGaussian();
        y[t] = state;
      }
      Trend trend = Trend.of(y);
      ordinary += ordinaryPValue(trend, y.length) < 0.05 ? 1 : 0;
      honest += trend.adjustedPValue() < 0.05 ? 1 : 0;
    }
    assertThat(honest).as("seed %s, of %s studies", seed, studies).isLessThan(studies / 10);
    assertThat(ordinary).as("seed %s", seed).isGreaterThan(studies / 5);
  }

  /** Evenly spaced values have no residual, and their trend no error. */
  @Test
  void valuesOnALineHaveACertainTrend() {
    assertThat(Trend.of(new double[] {1, 3, 5, 7, 9, 11}).adjustedPValue()).isZero();
    assertThat(Trend.of(new double[] {1, 3, 5, 7, 9, 11}).slope()).isEqualTo(2);
    assertThat(Trend.of(new double[] {4, 4, 4, 4, 4}).adjustedPValue()).isEqualTo(1);
  }

  @Test
  void aTrendTurnsWithItsValues() {
    double[] y = {1, 3, 2, 5, 4, 6, 8, 7};
    double[] turned = new double[y.length];
    for (int i = 0; i < y.length; i++) {
      turned[y.length - 1 - i] = 10 * y[i];
    }
    assertThat(Trend.of(turned).slope()).isCloseTo(-10 * Trend.of(y).slope(), within(1e-12));
    assertThat(Trend.of(turned).adjustedStandardError())
        .isCloseTo(10 * Trend.of(y).adjustedStandardError(), within(1e-12));
  }
}
