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

class CalibrationTest {
  private static final Oracle ORACLE = Oracle.load("calibration");

  @AfterAll
  static void everyExpectedValueWasChecked() {
    ORACLE.assertAllUsed();
  }

  private static StraightLine fit(String file) {
    return StraightLine.leastSquares(Oracle.column(file, "x"), Oracle.column(file, "y"));
  }

  @Test
  void certifiedLine() {
    StraightLine line = fit("strd_norris.csv");
    ORACLE.check("C1", "B0", line.intercept());
    ORACLE.check("C1", "B1", line.slope());
    ORACLE.check("C1", "se B1", line.slopeStandardError());
    ORACLE.check("C1", "residual sd", line.residualSd());
  }

  @Test
  void lineThroughTheLoadCellCurve() {
    StraightLine line = fit("strd_pontius.csv");
    ORACLE.check("C3", "line residual sd", line.residualSd());
    ORACLE.check("C3", "line B0", line.intercept());
    ORACLE.check("C3", "line B1", line.slope());
  }

  @Test
  void loadCellOfElevenLoads() {
    ORACLE.check("C5", "line residual sd", fit("nist_mpc365_loadcell.csv").residualSd());
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
        100
            * Math.abs(
                StraightLine.fit(StraightLine.Kind.TERMINAL, loads, means).largestDeviation())
            / span);
    ORACLE.check(
        "C5",
        "least-squares non-linearity %",
        100 * Math.abs(StraightLine.leastSquares(loads, means).largestDeviation()) / span);
  }

  @Test
  void thermometerOfTheGuide() {
    double[] t = Oracle.column("gum_h3_thermometer.csv", "t_C");
    double[] b = Oracle.column("gum_h3_thermometer.csv", "b_C");
    StraightLine line = StraightLine.leastSquares(Arrays.stream(t).map(v -> v - 20).toArray(), b);
    ORACLE.check("C6", "y1", line.intercept());
    ORACLE.check("C6", "y2", line.slope());
    ORACLE.check("C6", "s(y2)", line.slopeStandardError());
    ORACLE.check("C6", "s", line.residualSd());
    ORACLE.check("C6", "b(30)", line.intercept() + 10 * line.slope());
  }

  @ParameterizedTest
  @EnumSource(StraightLine.Kind.class)
  void linesFollowTheirDataWhenUnitsChange(StraightLine.Kind kind) {
    double[] x = {0, 1, 2, 3, 4, 5};
    double[] y = {0.1, 1.3, 2.2, 3.4, 4.1, 5.0};
    StraightLine before = StraightLine.fit(kind, x, y);
    StraightLine after =
        StraightLine.fit(
            kind,
            Arrays.stream(x).map(v -> 1000 * v).toArray(),
            Arrays.stream(y).map(v -> -16 * v + 7).toArray());
    assertThat(after.slope()).isCloseTo(-0.016 * before.slope(), within(1e-12));
    assertThat(after.intercept()).isCloseTo(-16 * before.intercept() + 7, within(1e-11));
    assertThat(Math.abs(after.largestDeviation()))
        .isCloseTo(16 * Math.abs(before.largestDeviation()), within(1e-11));
  }

  @Test
  void mistakesAreNamed() {
    assertThatThrownBy(() -> StraightLine.leastSquares(new double[] {1, 1}, new double[] {1, 2}))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessage("x must hold at least two different loads");
  }
}
