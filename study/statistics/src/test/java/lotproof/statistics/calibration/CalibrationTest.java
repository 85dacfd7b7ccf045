package lotproof.statistics.calibration;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
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
