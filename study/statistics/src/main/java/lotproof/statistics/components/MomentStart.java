package lotproof.statistics.components;

import java.util.Arrays;
import java.util.HashMap;
import java.util.Map;
import lotproof.statistics.linear.Dense;
import lotproof.statistics.linear.SmallMatrix;

/**
 * Estimates of the variances to start from: one scoring step from the residual alone (MINQUE), in
 * which quadratic forms of the levels' sums are equated to what they are expected to be. Estimates
 * below a small share of the total are raised to it, so that every component can move.
 *
 * <p>With W = diag(readings), G = (X'WX)^-1 and Q = W - W X G X'W: forms |Z_k'Qy|², traces
 * tr(Z_k'QZ_k), and their expectations |Z_k'QZ_l|² (Frobenius), in which Z_k'WZ_l counts the
 * readings of two levels; of the residual Q W^-1 Q = Q.
 */
final class MomentStart {
  /** Least share of the total. */
  private static final double SMALLEST_START = 0.02;

  private final CellMeans data;
  private final double[][] inverse;

  /** Sums of W X over the levels of each factor. */
  private final double[][][] levelSums;

  private final double[] traces;
  private final double[][] expected;

  /** What depends on the structure alone. */
  MomentStart(CellMeans data) {
    this.data = data;
    int columns = data.fixed.length;
    double[][] gram = new double[columns][columns];
    for (int p = 0; p < data.rows; p++) {
      for (int a = 0; a < columns; a++) {
        for (int b = 0; b < columns; b++) {
          gram[a][b] += data.readings[p] * data.fixed[a][p] * data.fixed[b][p];
        }
      }
    }
    inverse = SmallMatrix.inverse(gram).orElse(new double[columns][columns]);
    int factors = data.factors();
    levelSums = new double[factors][][];
    for (int k = 0; k < factors; k++) {
      levelSums[k] = new double[data.levelCount[k]][columns];
      for (int p = 0; p < data.rows; p++) {
        for (int a = 0; a < columns; a++) {
          levelSums[k][data.level[k][p]][a] += data.readings[p] * data.fixed[a][p];
        }
      }
    }
    traces = new double[factors + 1];
    expected = new double[factors + 1][factors + 1];
    for (int k = 0; k < factors; k++) {
      for (int p = 0; p < data.rows; p++) {
        traces[k] += data.readings[p];
      }
      for (double[] sums : levelSums[k]) {
        traces[k] -= SmallMatrix.quadratic(inverse, sums);
      }
      for (int l = 0; l <= k; l++) {
        expected[k][l] = squares(k, l);
        expected[l][k] = expected[k][l];
      }
      expected[k][factors] = traces[k];
      expected[factors][k] = traces[k];
    }
    traces[factors] = data.rows - columns + data.withinDegreesOfFreedom;
    expected[factors][factors] = traces[factors];
  }

  /** Sum over the pairs of levels of (readings they share - x_i' G x_j)². */
  private double squares(int k, int l) {
    Map<Long, Double> shared = new HashMap<>();
    double sum = 0;
    for (int p = 0; p < data.rows; p++) {
      int i = data.level[k][p];
      int j = data.level[l][p];
      shared.merge((long) i * data.levelCount[l] + j, data.readings[p], Double::sum);
      double[] moved = SmallMatrix.times(inverse, levelSums[l][j]);
      sum -= 2 * data.readings[p] * Dense.dot(levelSums[k][i], moved);
    }
    for (double readings : shared.values()) {
      sum += readings * readings;
    }
    double[][] one = outer(k);
    double[][] other = outer(l);
    for (int a = 0; a < one.length; a++) {
      for (int b = 0; b < one.length; b++) {
        sum += one[a][b] * other[b][a];
      }
    }
    return sum;
  }

  /** G times the sum of x_i x_i' over the levels. */
  private double[][] outer(int k) {
    double[][] result = new double[inverse.length][inverse.length];
    for (double[] sums : levelSums[k]) {
      double[] moved = SmallMatrix.times(inverse, sums);
      for (int a = 0; a < result.length; a++) {
        Dense.addScaled(result[a], 0, moved[a], sums, 0, sums.length);
      }
    }
    return result;
  }

  /** The estimates from values on this structure. */
  double[] estimates(CellMeans values) {
    double[] py = values.y.clone();
    double[] onFixed = new double[inverse.length];
    for (int a = 0; a < onFixed.length; a++) {
      for (int p = 0; p < py.length; p++) {
        onFixed[a] += data.readings[p] * data.fixed[a][p] * values.y[p];
      }
    }
    double[] effects = SmallMatrix.times(inverse, onFixed);
    for (int a = 0; a < effects.length; a++) {
      Dense.addScaled(py, 0, -effects[a], data.fixed[a], 0, py.length);
    }
    double[] excess = new double[traces.length];
    int residual = traces.length - 1;
    excess[residual] = values.withinSquares - traces[residual];
    for (int p = 0; p < py.length; p++) {
      excess[residual] += data.readings[p] * py[p] * py[p];
      py[p] *= data.readings[p];
    }
    for (int k = 0; k < residual; k++) {
      double[] sums = new double[data.levelCount[k]];
      for (int p = 0; p < py.length; p++) {
        sums[data.level[k][p]] += py[p];
      }
      excess[k] = Dense.dot(sums, sums) - traces[k];
    }
    double[] start = SmallMatrix.solve(expected, excess).orElse(new double[traces.length]);
    start[residual] += 1;
    double total = Arrays.stream(start).filter(variance -> variance > 0).sum();
    double floor = SMALLEST_START * (total > 0 && Double.isFinite(total) ? total : 1);
    return Arrays.stream(start).map(variance -> variance > floor ? variance : floor).toArray();
  }
}
