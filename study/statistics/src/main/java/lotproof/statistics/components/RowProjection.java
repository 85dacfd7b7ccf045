package lotproof.statistics.components;

import java.util.Arrays;

/**
 * Traces of Q V_k Q V_l from Q itself, row by row of the data. With hardly more rows than levels
 * this is the shortest way where a factor has a level for each row and the rows stand for unequal
 * numbers of readings; a component at zero needs no special form.
 */
final class RowProjection {
  private final EquationsLikelihood equations;
  private final ReducedRows data;
  private final EffectLayout layout;
  private final int n;

  /** Q, the whole of it. */
  private final double[] q;

  RowProjection(EquationsLikelihood equations) {
    this.equations = equations;
    this.data = equations.data;
    this.layout = equations.layout;
    this.n = data.rows;
    this.q = projection();
  }

  static boolean pays(EquationsLikelihood equations) {
    ReducedRows data = equations.data;
    EffectLayout layout = equations.layout;
    return data.rowFactor >= 0
        && !data.equalReadings()
        && data.rows <= 2 * (layout.eliminatedLevels + layout.restLevels);
  }

  /** W - W Z K Z'W, the fixed columns among Z under REML. */
  private double[] projection() {
    int levels = layout.eliminatedLevels + layout.restLevels;
    int columns = equations.restricted ? data.fixed.length : 0;
    int size = levels + columns;
    double[] inverse = new EffectInverse(equations).full(equations.restricted);
    int[][] at = positions();
    double[] result = new double[n * n];
    double[] combined = new double[size];
    double[] line = new double[n];
    for (int p = 0; p < n; p++) {
      Arrays.fill(combined, 0);
      for (int[] position : at) {
        Dense.addScaled(combined, 0, 1, inverse, position[p] * size, size);
      }
      for (int c = 0; c < columns; c++) {
        Dense.addScaled(combined, 0, data.fixed[c][p], inverse, (levels + c) * size, size);
      }
      Arrays.fill(line, 0, p + 1, 0);
      for (int[] position : at) {
        addPicked(line, combined, position, p + 1);
      }
      for (int c = 0; c < columns; c++) {
        Dense.addScaled(line, 0, combined[levels + c], data.fixed[c], 0, p + 1);
      }
      double weight = -equations.weight[p];
      for (int r = 0; r <= p; r++) {
        double value = weight * equations.weight[r] * line[r];
        result[p * n + r] = value;
        result[r * n + p] = value;
      }
      result[p * n + p] += equations.weight[p];
    }
    return result;
  }

  /** Adds each entry of a row at the place that it has in another. */
  private static void addSpread(
      double[] target, int targetStart, int[] places, double[] source, int start, int count) {
    for (int r = 0; r < count; r++) {
      target[targetStart + places[r]] += source[start + r];
    }
  }

  private static void addPicked(double[] target, double[] source, int[] places, int count) {
    for (int r = 0; r < count; r++) {
      target[r] += source[places[r]];
    }
  }

  /** For each factor with a block, the place of each row among all levels. */
  private int[][] positions() {
    int[][] result = new int[layout.rest.length + (layout.eliminated < 0 ? 0 : 1)][n];
    for (int f = 0; f < layout.rest.length; f++) {
      for (int p = 0; p < n; p++) {
        result[f][p] = layout.eliminatedLevels + layout.column[f][p];
      }
    }
    if (layout.eliminated >= 0) {
      result[layout.rest.length] = data.level[layout.eliminated];
    }
    return result;
  }

  double[][] productTraces() {
    double[][] second = new double[data.components()][data.components()];
    int[] blocks = layout.blocks();
    int most = Arrays.stream(blocks).map(k -> data.levelCount[k]).max().orElse(0);
    double[] image = new double[n * most];
    double[] sums = new double[most * most];
    for (int b = 0; b < blocks.length; b++) {
      blockTraces(blocks, b, image, sums, second);
    }
    rowTraces(second);
    return second;
  }

  /** Traces of rows and residual, from the half of Q below its diagonal. */
  private void rowTraces(double[][] second) {
    int row = data.rowFactor;
    int residual = data.factors();
    double[] all = q;
    double[] share = Arrays.stream(data.readings).map(readings -> 1 / readings).toArray();
    for (int p = 0; p < n; p++) {
      double squares = 0;
      double shared = 0;
      for (int r = 0; r < p; r++) {
        double value = all[p * n + r];
        double square = value * value;
        squares += square;
        shared += square * share[r];
      }
      double own = all[p * n + p] * all[p * n + p];
      second[row][row] += 2 * squares + own;
      second[row][residual] += shared + share[p] * (squares + own);
      second[residual][residual] += share[p] * (2 * shared + own * share[p]);
    }
    second[residual][row] = second[row][residual];
  }

  /**
   * Traces of a block's component with itself, those after it and the rows, from Q Z_l.
   *
   * @param image room for Q Z_l
   * @param sums room for Z_k' Q Z_l
   */
  private void blockTraces(
      int[] blocks, int block, double[] image, double[] sums, double[][] second) {
    int l = blocks[block];
    int levels = data.levelCount[l];
    Arrays.fill(image, 0, n * levels, 0);
    for (int p = 0; p < n; p++) {
      addSpread(image, p * levels, data.level[l], q, p * n, n);
      double squares = Dense.dot(image, p * levels, image, p * levels, levels);
      second[data.rowFactor][l] += squares;
      second[data.factors()][l] += squares / data.readings[p];
    }
    second[l][data.rowFactor] = second[data.rowFactor][l];
    second[l][data.factors()] = second[data.factors()][l];
    for (int b = block; b < blocks.length; b++) {
      int k = blocks[b];
      int size = data.levelCount[k] * levels;
      Arrays.fill(sums, 0, size, 0);
      for (int p = 0; p < n; p++) {
        Dense.addScaled(sums, data.level[k][p] * levels, 1, image, p * levels, levels);
      }
      second[k][l] = Dense.dot(sums, 0, sums, 0, size);
      second[l][k] = second[k][l];
    }
  }
}
