package lotproof.statistics.calibration;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.SplittableRandom;
import lotproof.statistics.Oracle;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.junit.jupiter.params.provider.ValueSource;

class CalibrationTest {
  private static final Oracle ORACLE = Oracle.load("calibration");

  @AfterAll
  static void everyExpectedValueWasChecked() {
    ORACLE.assertAllUsed();
  }

  private static PolynomialFit fit(String file, int degree) {
    return PolynomialFit.of(Oracle.column(file, "x"), Oracle.column(file, "y"), degree);
  }

  private static void check(String id, PolynomialFit fit) {
    for (int k = 0; k < fit.coefficients().length; k++) {
      ORACLE.check(id, "B" + k, fit.coefficients()[k]);
      ORACLE.check(id, "se B" + k, fit.standardErrors()[k]);
    }
    ORACLE.check(id, "residual sd", fit.residualSd());
  }

  @Test
  void certifiedLine() {
    check("C1", fit("strd_norris.csv", 1));
  }

  @Test
  void certifiedLoadCellCurve() {
    check("C2", fit("strd_pontius.csv", 2));
  }

  /** Trap 7: 4.6.1 of the handbook prints 0.673618E-03, which comes from single precision. */
  @Test
  void theCurveIsNotThatOfSinglePrecision() {
    double b0 = fit("strd_pontius.csv", 2).coefficients()[0];
    assertThat(b0).isNotCloseTo(0.673618e-3, within(4e-8)).isCloseTo(0.673618e-3, within(6e-8));
  }

  @Test
  void lineThroughTheLoadCellCurve() {
    PolynomialFit line = fit("strd_pontius.csv", 1);
    ORACLE.check("C3", "line residual sd", line.residualSd());
    ORACLE.check("C3", "line B0", line.coefficients()[0]);
    ORACLE.check("C3", "line B1", line.coefficients()[1]);
  }

  @Test
  void loadCellOfElevenLoads() {
    PolynomialFit curve = fit("nist_mpc365_loadcell.csv", 2);
    for (int k = 0; k <= 2; k++) {
      ORACLE.check("C5", "B" + k, curve.coefficients()[k]);
    }
    ORACLE.check("C5", "residual sd", curve.residualSd());
    PolynomialFit line = fit("nist_mpc365_loadcell.csv", 1);
    ORACLE.check("C5", "line residual sd", line.residualSd());
    double[] x = Oracle.column("nist_mpc365_loadcell.csv", "x");
    double[] y = Oracle.column("nist_mpc365_loadcell.csv", "y");
    double[] loads = Arrays.stream(x).distinct().toArray();
    double[] means =
        Arrays.stream(loads)
            .map(
                load -> {
                  double sum = 0;
                  int count = 0;
                  for (int i = 0; i < x.length; i++) {
                    if (x[i] == load) {
                      sum += y[i];
                      count++;
                    }
                  }
                  return sum / count;
                })
            .toArray();
    double span = Math.abs(means[loads.length - 1] - means[0]);
    assertThat(loads).isSorted();
    ORACLE.check(
        "C5",
        "terminal non-linearity %",
        100 * Math.abs(Lines.terminal(loads, means).largestDeviation()) / span);
    ORACLE.check(
        "C5",
        "least-squares non-linearity %",
        100 * Math.abs(Lines.leastSquares(loads, means).largestDeviation()) / span);
  }

  @Test
  void thermometerOfTheGuide() {
    double[] t = Oracle.column("gum_h3_thermometer.csv", "t_C");
    double[] b = Oracle.column("gum_h3_thermometer.csv", "b_C");
    PolynomialFit fit = PolynomialFit.of(Arrays.stream(t).map(v -> v - 20).toArray(), b, 1);
    ORACLE.check("C6", "y1", fit.coefficients()[0]);
    ORACLE.check("C6", "s(y1)", fit.standardErrors()[0]);
    ORACLE.check("C6", "y2", fit.coefficients()[1]);
    ORACLE.check("C6", "s(y2)", fit.standardErrors()[1]);
    ORACLE.check(
        "C6", "r", fit.covariance(0, 1) / (fit.standardErrors()[0] * fit.standardErrors()[1]));
    ORACLE.check("C6", "s", fit.residualSd());
    double variance = fit.covariance(0, 0) + 20 * fit.covariance(0, 1) + 100 * fit.covariance(1, 1);
    ORACLE.check("C6", "b(30)", fit.coefficients()[0] + 10 * fit.coefficients()[1]);
    ORACLE.check("C6", "u(b(30))", Math.sqrt(variance));
  }

  @Test
  void lineAtThreeQuartersOfTheRange() {
    double[] load = {0, 500, 1000, 2000, 2250, 3000};
    double[] counts = {0.0, 5000.9, 10002.6, 20003.3, 22500.0, 29994.6};
    LineFit line = Lines.threeQuarters(load, counts);
    ORACLE.check("W5", "counts per interval", line.slope());
    for (int i = 0; i < load.length; i++) {
      ORACLE.check("W5", "error at " + (int) load[i], line.deviations()[i] / line.slope());
    }
    // Without a load at 75 % the neighbours are interpolated.
    LineFit interpolated = Lines.threeQuarters(new double[] {0, 2, 4}, new double[] {0, 2, 5});
    assertThat(interpolated.slope()).isCloseTo(3.5 / 3, within(1e-15));
  }

  @Test
  void minimumZoneByHand() {
    // The strip between y = x on three points and the point above its middle.
    LineFit line = Lines.minimumZone(new double[] {0, 1, 2, 3}, new double[] {0, 1.4, 2, 3});
    assertThat(line.slope()).isCloseTo(1, within(1e-15));
    assertThat(line.intercept()).isCloseTo(0.2, within(1e-15));
    assertThat(Math.abs(line.largestDeviation())).isCloseTo(0.2, within(1e-15));
  }

  @ParameterizedTest
  @ValueSource(longs = {2L, 20261125L, 77L})
  void noOtherLineHasASmallerLargestDeviation(long seed) {
    SplittableRandom random = new SplittableRandom(seed);
    for (int round = 0; round < 40; round++) {
      int n = random.nextInt(3, 25);
      double[] x = random.doubles(n, 0, 10).map(v -> Math.rint(4 * v) / 4).toArray();
      x[0] = 0;
      x[1] = 10;
      double[] y = Arrays.stream(x).map(v -> 3 * v + random.nextDouble()).toArray();
      LineFit zone = Lines.minimumZone(x, y);
      double best = Math.abs(zone.largestDeviation());
      for (int i = 0; i < 200; i++) {
        double slope = zone.slope() + random.nextDouble(-0.1, 0.1);
        double intercept = zone.intercept() + random.nextDouble(-0.3, 0.3);
        double largest = 0;
        for (int j = 0; j < n; j++) {
          largest = Math.max(largest, Math.abs(y[j] - intercept - slope * x[j]));
        }
        assertThat(largest)
            .as("seed %s round %s", seed, round)
            .isGreaterThanOrEqualTo(best - 1e-12);
      }
      assertThat(best)
          .isLessThanOrEqualTo(Math.abs(Lines.leastSquares(x, y).largestDeviation()) + 1e-12);
    }
  }

  @ParameterizedTest
  @EnumSource(LineKind.class)
  void linesFollowTheirDataWhenUnitsChange(LineKind kind) {
    double[] x = {0, 1, 2, 3, 4, 5};
    double[] y = {0.1, 1.3, 2.2, 3.4, 4.1, 5.0};
    LineFit before = Lines.fit(kind, x, y);
    LineFit after =
        Lines.fit(
            kind,
            Arrays.stream(x).map(v -> 1000 * v).toArray(),
            Arrays.stream(y).map(v -> -16 * v + 7).toArray());
    assertThat(after.slope()).isCloseTo(-0.016 * before.slope(), within(1e-12));
    assertThat(after.intercept()).isCloseTo(-16 * before.intercept() + 7, within(1e-11));
    assertThat(Math.abs(after.largestDeviation()))
        .isCloseTo(16 * Math.abs(before.largestDeviation()), within(1e-11));
  }

  @ParameterizedTest
  @ValueSource(ints = {1, 2, 3, 4, 5, 6})
  void aPolynomialIsFoundAgainFarFromZero(int degree) {
    double[] x = new double[20];
    Arrays.setAll(x, i -> 1000 + i);
    double[] y = Arrays.stream(x).map(v -> 5 + Math.pow((v - 1010) / 4, degree)).toArray();
    PolynomialFit fit = PolynomialFit.of(x, y, degree);
    assertThat(fit.residualSd()).isLessThan(1e-9);
  }

  @Test
  void mistakesAreNamed() {
    assertThatThrownBy(() -> Lines.terminal(new double[] {1, 1}, new double[] {1, 2}))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessage("x must hold at least two different loads");
    assertThatThrownBy(() -> Lines.terminal(new double[] {1, 2}, new double[] {3, 3}))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessage("y must change with x: the line is level");
    assertThatThrownBy(
            () -> PolynomialFit.of(new double[] {1, 1, 1, 2}, new double[] {1, 2, 3, 4}, 2))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessage("x must hold more than 2 different loads, held 2");
  }
}
