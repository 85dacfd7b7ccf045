package lotproof.statistics.components;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.Random;
import lotproof.statistics.DistributionQuantiles;
import lotproof.statistics.FoldedNormal;
import lotproof.statistics.JointNormalBound;
import lotproof.statistics.SymmetricRoots;
import lotproof.statistics.linear.Dense;
import org.junit.jupiter.api.Test;

class JointNormalBoundTest {
  private static final double CONTENT = 0.95;

  /** Oracle: the empirical quantile of drawn curves, from the roots of the covariance. */
  private static double drawn(
      double[] means, double[][] roots, boolean sizes, int draws, long seed) {
    Random random = new Random(seed);
    double[] largest = new double[draws];
    for (int d = 0; d < draws; d++) {
      double[] curve = means.clone();
      for (double[] root : roots) {
        Dense.addScaled(curve, 0, random.nextGaussian(), root, 0, curve.length);
      }
      largest[d] = Double.NEGATIVE_INFINITY;
      for (double value : curve) {
        largest[d] = Math.max(largest[d], sizes ? Math.abs(value) : value);
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
    JointNormalBound curve = new JointNormalBound(means, covariance(new double[][] {root}), true);
    double alone = FoldedNormal.halfWidth(2, 10, CONTENT);
    assertThat(curve.bound(CONTENT)).isCloseTo(alone, within(1e-5 * alone));
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
      double exact = DistributionQuantiles.normal((1 + each) / 2);
      double found = new JointNormalBound(new double[n], covariance(roots), true).bound(CONTENT);
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
      for (boolean sizes : new boolean[] {true, false}) {
        double drawn = drawn(means, roots, sizes, 400_000, 100 + i);
        double found = new JointNormalBound(means, covariance(roots), sizes).bound(CONTENT);
        assertThat(found)
            .as("curve %d of seed 5, sizes %b", i, sizes)
            .isBetween(0.994 * drawn, 1.01 * drawn);
      }
    }
  }

  /**
   * Two points, where the bound is exact, against P = integral of phi(x) P(Y in its range | x) dx
   * by Simpson's rule in 20,000 steps.
   */
  @Test
  void twoPointsAgreeWithNumericIntegration() {
    double[] means = {0.3, -0.2};
    for (double r : new double[] {-0.999, -0.9, -0.4, 0, 0.5, 0.9, 0.99, 0.9999}) {
      for (double ratio : new double[] {1, 0.97, 0.6}) {
        for (boolean sizes : new boolean[] {true, false}) {
          double[][] covariance = {{1, r * ratio}, {r * ratio, ratio * ratio}};
          JointNormalBound curve = new JointNormalBound(means, covariance, sizes);
          for (double content : new double[] {0.5, 0.95, 0.995}) {
            double bound = curve.bound(content);
            assertThat(integrated(means, r, ratio, bound, sizes))
                .as("r %s, ratio %s, sizes %b, content %s", r, ratio, sizes, content)
                .isCloseTo(content, within(2e-4 * (1 - content) + 1e-7));
          }
        }
      }
    }
  }

  private static double integrated(
      double[] means, double r, double ratio, double bound, boolean sizes) {
    int steps = 20_000;
    double from = sizes ? -bound - means[0] : -9;
    double width = (bound - means[0] - from) / steps;
    double sd = ratio * Math.sqrt((1 - r) * (1 + r));
    double sum = 0;
    for (int i = 0; i <= steps; i++) {
      double x = from + i * width;
      double mean = means[1] + r * ratio * x;
      double below =
          sizes ? DistributionQuantiles.NORMAL.cumulativeProbability((-bound - mean) / sd) : 0;
      double inside =
          DistributionQuantiles.NORMAL.cumulativeProbability((bound - mean) / sd) - below;
      double weight = i == 0 || i == steps ? 1 : i % 2 == 1 ? 4 : 2;
      sum += weight * DistributionQuantiles.NORMAL.density(x) * inside;
    }
    return sum * width / 3;
  }

  @Test
  void aCurveWithoutSpreadIsItsMean() {
    JointNormalBound curve = new JointNormalBound(new double[] {1, -3}, new double[2][2], true);
    assertThat(curve.bound(CONTENT)).isEqualTo(3);
    assertThat(curve.within(2.9)).isZero();
    assertThat(curve.within(3)).isEqualTo(1);
    JointNormalBound above = new JointNormalBound(new double[] {-1, -3}, new double[2][2], false);
    assertThat(above.bound(CONTENT)).isEqualTo(-1);
    assertThat(above.within(-1.1)).isZero();
    assertThatThrownBy(() -> curve.bound(95)).hasMessageContaining("content");
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
