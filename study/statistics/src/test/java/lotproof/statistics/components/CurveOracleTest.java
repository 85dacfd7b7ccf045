package lotproof.statistics.components;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.Set;
import lotproof.statistics.Oracle;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.Test;

/**
 * Curves of a balanced one-way study, where everything has a closed form. The units' covariance has
 * a negative eigenvalue, and the point of least variance has the widest limit of it.
 */
class CurveOracleTest {
  private static final Oracle ORACLE = Oracle.load("curves");
  private static final List<String> ORDER = List.of("residual", "unit");

  @AfterAll
  static void everyExpectedValueWasChecked() {
    ORACLE.assertAllUsed();
  }

  private static Observations point(String name) {
    return Studies.read("curves_one_way.csv", name, "unit");
  }

  private static CurveComponents estimated() {
    double[][] points = {point("x1").values(), point("x2").values(), point("x3").values()};
    double[][] curves = new double[points[0].length][points.length];
    for (int run = 0; run < curves.length; run++) {
      for (int x = 0; x < points.length; x++) {
        curves[run][x] = points[x][run];
      }
    }
    CurveOutcome outcome =
        CurveComponents.estimate(curves, point("x1").factors(), ORDER, Set.of(), 0.95);
    assertThat(outcome).isInstanceOf(CurveComponents.class);
    return (CurveComponents) outcome;
  }

  @Test
  void covariancesWithoutNegativeEigenvalues() {
    CurveComponents curves = estimated();
    for (int i = 0; i < 3; i++) {
      ORACLE.check("Y1", "mean " + i, curves.means()[i]);
      ORACLE.check("Y1", "total sd " + i, curves.totalSds()[i]);
      ORACLE.check("Y1", "error of mean " + i, curves.meanStandardErrors()[i]);
      for (int j = 0; j <= i; j++) {
        ORACLE.check("Y1", "unit " + i + " " + j, curves.covariance("unit")[i][j]);
        ORACLE.check("Y1", "residual " + i + " " + j, curves.covariance("residual")[i][j]);
      }
    }
  }

  /** The second point has 43 % of the largest variance and counts, the third has 16 %. */
  @Test
  void inflationOfPointsThatHoldAQuarterOfTheLargestVariance() {
    ORACLE.check("Y2", "inflation", estimated().inflation());
  }

  @Test
  void jointBoundOfARefit() {
    CurveRefit.Part part =
        new CurveRefit.Part(Studies.fit(point("x1"), Criterion.REML), ORDER, ComponentWeights.ALL);
    double[][] values = {point("x1").values(), point("x2").values()};
    CurveRefit.Bounds bounds =
        new CurveRefit(List.of(part))
            .bounds(
                List.<double[][]>of(values),
                new CurveRefit.Question(new double[2], 0, 0.95, 0.95, 0))
            .orElseThrow();
    ORACLE.check("Y3", "together", bounds.together());
  }
}
