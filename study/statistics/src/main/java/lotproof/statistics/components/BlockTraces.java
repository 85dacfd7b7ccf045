package lotproof.statistics.components;

import java.util.Arrays;

/**
 * Traces of Q V_k and Q V_k Q V_l between the factors that have a block of their own, from the
 * inverse of the equations: tr(Q V_k Q V_l) = |Z_k' Q Z_l|^2 (Frobenius). The block of the
 * eliminated factor is diag(s/a) less a product of rank "levels of the rest", so its norm is found
 * without forming it.
 */
final class BlockTraces {
  private final EquationsLikelihood equations;
  private final EffectLayout layout;
  private final int eliminatedLevels;
  private final int restLevels;
  private final double[] theta;

  /** K, block of the rest. */
  private final double[] inverse;

  /** M, the whole of it. */
  private final double[] schur;

  /** Whether a component is near zero, by factor. */
  private final boolean[] small;

  BlockTraces(EquationsLikelihood equations) {
    this.equations = equations;
    this.layout = equations.layout;
    this.eliminatedLevels = layout.eliminatedLevels;
    this.restLevels = layout.restLevels;
    this.theta = equations.theta;
    this.inverse = equations.restInverse();
    this.schur = layout.envelope.whole(equations.schur);
    this.small = SelectedInverse.nearZero(equations);
  }

  /** (1/a) B K: minus the block between eliminated and rest levels, by theta_E. */
  static double[] crossInverse(EquationsLikelihood equations) {
    EffectLayout layout = equations.layout;
    int q = layout.restLevels;
    double[] result = new double[layout.eliminatedLevels * q];
    double[][] inverse = Dense.rows(equations.restInverse(), q, q);
    double[] line = new double[q];
    double[] factors = new double[layout.crossColumn.length];
    for (int i = 0; i < layout.eliminatedLevels; i++) {
      int from = layout.crossStart[i];
      int to = layout.crossStart[i + 1];
      for (int c = from; c < to; c++) {
        factors[c] = equations.crossWeight[c] / equations.inflation[i];
      }
      Arrays.fill(line, 0);
      Dense.addRows(line, factors, inverse, layout.crossColumn, from, to);
      System.arraycopy(line, 0, result, i * q, q);
    }
    return result;
  }

  void fill(double[] first, double[][] second) {
    if (layout.eliminated < 0) {
      return;
    }
    FixedRows fixed = FixedRows.underCriterion(equations);
    fillEliminated(first, second, fixed.eliminated(), fixed.columns());
    fillCross(second, fixed.eliminated(), fixed.rest(), fixed.columns());
    fillRest(first, second, fixed.rest(), fixed.columns());
    for (int k = 0; k < theta.length; k++) {
      for (int l = 0; l < k; l++) {
        double sum = second[k][l] + second[l][k];
        second[k][l] = sum;
        second[l][k] = sum;
      }
    }
  }

  private void fillEliminated(double[] first, double[][] second, double[] fixed, int columns) {
    int e = layout.eliminated;
    int width = restLevels + columns;
    double[][] rows = withFixed(fixed, columns);
    double[] product = new double[width * width];
    double[] factors = new double[layout.crossColumn.length];
    double trace = 0;
    double squares = 0;
    for (int i = 0; i < eliminatedLevels; i++) {
      double a = equations.inflation[i];
      double diagonal = equations.levelWeight[i] / a;
      double low = 0;
      for (int c = layout.crossStart[i]; c < layout.crossStart[i + 1]; c++) {
        factors[c] = equations.crossWeight[c] / a;
        low += factors[c] * rows[i][layout.crossColumn[c]];
      }
      for (int c = 0; c < columns; c++) {
        double b = fixed[i * columns + c];
        low += b * b;
        Dense.addScaled(product, (restLevels + c) * width, b, rows[i], 0, width);
      }
      trace += diagonal - low;
      squares += diagonal * diagonal - 2 * diagonal * low;
    }
    layout.putCrossTransposed(product, factors, rows);
    for (int i = 0; i < width; i++) {
      for (int j = 0; j < width; j++) {
        squares += product[i * width + j] * product[j * width + i];
      }
    }
    first[e] = trace;
    second[e][e] = squares;
  }

  /** Rows of (1/a) B K, the fixed columns behind them. */
  private double[][] withFixed(double[] fixed, int columns) {
    double[] cross = equations.crossInverse();
    double[][] rows = new double[eliminatedLevels][restLevels + columns];
    for (int i = 0; i < eliminatedLevels; i++) {
      System.arraycopy(cross, i * restLevels, rows[i], 0, restLevels);
      System.arraycopy(fixed, i * columns, rows[i], restLevels, columns);
    }
    return rows;
  }

  private void fillCross(
      double[][] second, double[] eliminatedFixed, double[] restFixed, int columns) {
    double[] row = new double[restLevels];
    for (int i = 0; i < eliminatedLevels; i++) {
      crossRow(i, row);
      for (int c = 0; c < columns; c++) {
        double factor = eliminatedFixed[i * columns + c];
        for (int j = 0; j < restLevels; j++) {
          row[j] -= factor * restFixed[j * columns + c];
        }
      }
      for (int f = 0; f < layout.rest.length; f++) {
        int l = layout.rest[f];
        int from = layout.offset[f];
        second[layout.eliminated][l] +=
            Dense.dot(row, from, row, from, equations.data.levelCount[l]);
      }
    }
  }

  /** Row of Z_E' V^-1 Z_R. */
  private void crossRow(int i, double[] row) {
    int q = restLevels;
    double[] crossInverse = equations.crossInverse();
    boolean zero = false;
    for (int f = 0; f < layout.rest.length; f++) {
      double variance = theta[layout.rest[f]];
      zero |= variance == 0;
      double factor = variance > 0 ? 1 / variance : 0;
      int to = layout.offset[f] + equations.data.levelCount[layout.rest[f]];
      for (int j = layout.offset[f]; j < to; j++) {
        row[j] = factor * crossInverse[i * q + j];
      }
    }
    if (!zero) {
      return;
    }
    for (int j = 0; j < q; j++) {
      if (theta[layout.factorOfColumn[j]] == 0) {
        row[j] = -dotActive(crossInverse, i * q, schur, j * q);
      }
    }
    for (int c = layout.crossStart[i]; c < layout.crossStart[i + 1]; c++) {
      int j = layout.crossColumn[c];
      if (theta[layout.factorOfColumn[j]] == 0) {
        row[j] += equations.crossWeight[c] / equations.inflation[i];
      }
    }
  }

  private void fillRest(double[] first, double[][] second, double[] fixed, int columns) {
    double[] row = new double[restLevels];
    for (int j = 0; j < restLevels; j++) {
      restRow(j, j + 1, row);
      for (int c = 0; c < columns; c++) {
        double factor = fixed[j * columns + c];
        for (int m = 0; m <= j; m++) {
          row[m] -= factor * fixed[m * columns + c];
        }
      }
      int k = layout.factorOfColumn[j];
      first[k] += row[j];
      for (int f = 0; f < layout.rest.length && layout.offset[f] <= j; f++) {
        int l = layout.rest[f];
        int from = layout.offset[f];
        int to = Math.min(j + 1, from + equations.data.levelCount[l]);
        double squares = Dense.dot(row, from, row, from, to - from);
        // only the lower half is visited: within a factor the upper one counts as well
        second[k][l] += k == l ? 2 * squares - row[j] * row[j] : squares;
      }
    }
  }

  /** Row of Z_R' V^-1 Z_R, up to a column. */
  private void restRow(int j, int end, double[] row) {
    int q = restLevels;
    int k = layout.factorOfColumn[j];
    if (small[k]) {
      smallRow(j, end, row);
      return;
    }
    for (int f = 0; f < layout.rest.length && layout.offset[f] < end; f++) {
      int l = layout.rest[f];
      int from = layout.offset[f];
      int to = Math.min(end, from + equations.data.levelCount[l]);
      double factor = -1 / (theta[k] * theta[l]);
      for (int m = from; m < to; m++) {
        row[m] =
            small[l]
                ? dotActive(schur, m * q, inverse, j * q) / theta[k]
                : factor * inverse[j * q + m];
      }
    }
    if (j < end) {
      row[j] += 1 / theta[k];
    }
  }

  /** Product over the columns of components above zero; K is zero elsewhere. */
  private double dotActive(double[] a, int aStart, double[] b, int bStart) {
    double sum = 0;
    for (int f = 0; f < layout.rest.length; f++) {
      int k = layout.rest[f];
      if (theta[k] > 0) {
        int from = layout.offset[f];
        int length = equations.data.levelCount[k];
        sum += Dense.dot(a, aStart + from, b, bStart + from, length);
      }
    }
    return sum;
  }

  private void smallRow(int j, int end, double[] row) {
    int q = restLevels;
    double[] product = new double[q];
    for (int m = 0; m < q; m++) {
      product[m] = dotActive(schur, j * q, inverse, m * q);
    }
    for (int m = 0; m < end; m++) {
      int l = layout.factorOfColumn[m];
      row[m] =
          small[l] ? schur[j * q + m] - dotActive(product, 0, schur, m * q) : product[m] / theta[l];
    }
  }
}
