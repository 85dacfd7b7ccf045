package lotproof.statistics.components;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.Random;
import org.junit.jupiter.api.Test;

class NormalCurveTest {
  private static final double CONTENT = 0.95;

  /** Oracle: the empirical quantile of drawn curves, from the roots of the covariance. */
  private static double drawn(double[] means, double[][] roots, int draws, long seed) {
    Random random = new Random(seed);
    double[] largest = new double[draws];
    for (int d = 0; d < draws; d++) {
      double[] curve = means.clone();
      for (double[] root : roots) {
        Dense.addScaled(curve, 0, random.nextGaussian(), root, 0, curve.length);
      }
      for (double value : curve) {
        largest[d] = Math.max(largest[d], Math.abs(value));
      }
    }
    Arrays.sort(largest);
    return largest[(int) Math.ceil(CONTENT * draws) - 1];
  }

  private static double[][] covariance(double[][] roots) {
    int points = roots[0].length;
    double[][] sum = new double[points][points];
    for (double[] root : roots) {
      for (int x = 0; x < points; x++) {
        Dense.addScaled(sum[x], 0, root[x], root, 0, points);
      }
    }
    return sum;
  }

  @Test
  void oneRootIsTheWidestPointAlone() {
    double[] root = {1, 4, 7, 10};
    double[] means = {0.2, 0.8, 1.4, 2};
    NormalCurve curve = new NormalCurve(means, covariance(new double[][] {root}));
    double alone = FoldedNormal.halfWidth(2, 10, CONTENT);
    assertThat(curve.halfWidth(CONTENT)).isCloseTo(alone, within(1e-5 * alone));
    assertThat(curve.within(alone)).isCloseTo(CONTENT, within(1e-9));
    assertThat(curve.within(0)).isZero();
  }

  /** P(all |Z| at most A) = (2 Phi(A) - 1)^n for independent standard normal points. */
  @Test
  void independentPointsMultiply() {
    for (int n : new int[] {2, 4, 8}) {
      double[][] roots = new double[n][n];
      for (int x = 0; x < n; x++) {
        roots[x][x] = 1;
      }
      double each = Math.pow(CONTENT, 1.0 / n);
      double exact = Quantiles.normal((1 + each) / 2);
      double found = new NormalCurve(new double[n], covariance(roots)).halfWidth(CONTENT);
      assertThat(found).as("%d points", n).isBetween((1 - 1e-6) * exact, 1.003 * exact);
    }
  }

  @Test
  void curvesOfAllShapesAgreeWithDrawnOnes() {
    Random random = new Random(5);
    for (int i = 0; i < 12; i++) {
      int points = 3 + i % 6;
      double[][] roots = new double[2 + i % 4][points];
      double[] means = new double[points];
      for (int r = 0; r < roots.length; r++) {
        for (int x = 0; x < points; x++) {
          roots[r][x] = random.nextGaussian() * Math.pow(0.6, r);
        }
      }
      for (int x = 0; x < points; x++) {
        means[x] = 0.5 * random.nextGaussian();
      }
      double drawn = drawn(means, roots, 400_000, 100 + i);
      double found = new NormalCurve(means, covariance(roots)).halfWidth(CONTENT);
      assertThat(found).as("curve %d of seed 5", i).isBetween(0.994 * drawn, 1.012 * drawn);
    }
  }

  @Test
  void aCurveWithoutSpreadIsItsMean() {
    NormalCurve curve = new NormalCurve(new double[] {1, -3}, new double[2][2]);
    assertThat(curve.halfWidth(CONTENT)).isEqualTo(3);
    assertThat(curve.within(2.9)).isZero();
    assertThat(curve.within(3)).isEqualTo(1);
    assertThatThrownBy(() -> curve.halfWidth(95)).hasMessageContaining("content");
  }

  @Test
  void rootsAddUpToThePositivePart() {
    double[][] matrix = {{2, 1, 0.3}, {1, -1, 0.2}, {0.3, 0.2, 0.5}};
    double[][] positive = SymmetricRoots.positivePart(matrix);
    double[][] negative = SymmetricRoots.positivePart(scaled(matrix, -1));
    for (int i = 0; i < 3; i++) {
      for (int j = 0; j < 3; j++) {
        assertThat(positive[i][j] - negative[i][j]).isCloseTo(matrix[i][j], within(1e-12));
      }
    }
    // a known pair: [[2, 1], [1, 2]] has the values 3 and 1
    var roots = SymmetricRoots.of(new double[][] {{2, 1}, {1, 2}});
    assertThat(Dense.dot(roots.get(0), roots.get(0))).isCloseTo(3, within(1e-12));
    assertThat(Dense.dot(roots.get(1), roots.get(1))).isCloseTo(1, within(1e-12));
    assertThat(SymmetricRoots.of(new double[2][2])).isEmpty();
  }

  private static double[][] scaled(double[][] matrix, double factor) {
    return Arrays.stream(matrix)
        .map(row -> Arrays.stream(row).map(v -> factor * v).toArray())
        .toArray(double[][]::new);
  }
}
