package lotproof.statistics.components;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Arrays;
import java.util.List;
import lotproof.statistics.JointNormalBound;
import lotproof.statistics.Oracle;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.Test;

/**
 * Curves of a balanced one-way study, where everything has a closed form. The units' covariance has
 * a negative eigenvalue, and the point of least variance has the widest limit of it.
 */
class CurveOracleTest {
  private static final Oracle ORACLE = Oracle.load("curves");

  @AfterAll
  static void everyExpectedValueWasChecked() {
    ORACLE.assertAllUsed();
  }

  private static Observations point(String name) {
    return Studies.read("curves_one_way.csv", name, "unit");
  }

  private static double[][] curves(String... names) {
    double[][] points =
        Arrays.stream(names).map(name -> point(name).values()).toArray(double[][]::new);
    double[][] curves = new double[points[0].length][points.length];
    for (int run = 0; run < curves.length; run++) {
      for (int x = 0; x < points.length; x++) {
        curves[run][x] = points[x][run];
      }
    }
    return curves;
  }

  private static CurveComponents estimated(String... names) {
    FitOutcome outcome = CurveComponents.estimate(curves(names), point("x1").factors(), List.of());
    assertThat(outcome).isInstanceOf(CurveComponents.class);
    return (CurveComponents) outcome;
  }

  private static double inflation(String... names) {
    return Studies.inflation(curves(names), point("x1").factors(), 0.95);
  }

  @Test
  void covariancesWithoutNegativeEigenvalues() {
    CurveComponents curves = estimated("x1", "x2", "x3");
    for (int i = 0; i < 3; i++) {
      ORACLE.check("Y1", "mean " + i, curves.means()[i]);
      ORACLE.check("Y1", "total sd " + i, Math.sqrt(curves.futureCovariance[i][i]));
      ORACLE.check("Y1", "error of mean " + i, Math.sqrt(curves.meanCovariance[i][i]));
      for (int j = 0; j <= i; j++) {
        ORACLE.check("Y1", "unit " + i + " " + j, curves.covariance(new Component("unit"))[i][j]);
        ORACLE.check("Y1", "residual " + i + " " + j, curves.covariance(Component.RESIDUAL)[i][j]);
      }
    }
  }

  /** The second point has 43 % of the largest variance and counts, the third has 16 %. */
  @Test
  void inflationOfPointsThatHoldAQuarterOfTheLargestVariance() {
    ORACLE.check("Y2", "inflation", inflation("x1", "x2", "x3"));
  }

  @Test
  void jointBoundOfTwoPoints() {
    ORACLE.check(
        "Y3", "together", estimated("x1", "x2").future(inflation("x1", "x2"), true).bound(0.95));
  }

  /** Gain, bow, hysteresis of falling loads and noise, with means that are not zero. */
  @Test
  void jointBoundOfSevenLoads() {
    double[] loads = {0.1, 0.4, 0.7, 1, 0.7, 0.4, 0.1};
    double[] means = {1, 3, 4, 5, 3, 1, -1};
    double[][] covariance = new double[7][7];
    for (int x = 0; x < 7; x++) {
      for (int y = 0; y < 7; y++) {
        double bow = 48 * 48 * loads[x] * (1 - loads[x]) * loads[y] * (1 - loads[y]);
        double falling = x > 3 && y > 3 ? 100 * (1 - loads[x]) * (1 - loads[y]) : 0;
        double noise = x == y ? 9 : 0;
        covariance[x][y] = 1600 * loads[x] * loads[y] + bow + falling + noise;
      }
    }
    JointNormalBound sizes = new JointNormalBound(means, covariance, true);
    JointNormalBound values = new JointNormalBound(means, covariance, false);
    for (double content : new double[] {0.9, 0.95, 0.99}) {
      ORACLE.check("Y4", "sizes " + content, sizes.bound(content));
      ORACLE.check("Y4", "values " + content, values.bound(content));
    }
    // the same integral at 0.5: on the safe side, but by more than one per cent
    assertThat(sizes.bound(0.5)).isBetween(30.401, 1.04 * 30.401);
  }
}
