package lotproof.statistics.components;

import java.util.Arrays;

/**
 * The entries of K = lambda C^-1 lambda, the block of the rest in the inverse of the equations,
 * that lie inside the envelope, and what needs no others: diagonals of Z_k'V^-1 Z_k and of V^-1.
 * Levels that meet in a row, or with the same eliminated level, have their entry inside.
 */
final class SelectedInverse {
  /**
   * Below this, theta times weight says that a component is near zero and that 1 - C^-1 would
   * cancel.
   */
  private static final double SMALL = 1e-3;

  private final EquationsLikelihood equations;
  private final EffectLayout layout;
  private final Envelope envelope;
  private final double[] inverse;

  /** C^-1 itself. */
  private final double[] plain;

  SelectedInverse(EquationsLikelihood equations) {
    this.equations = equations;
    this.layout = equations.layout;
    this.envelope = layout.envelope;
    this.plain = envelope.inverseInside(equations.factor);
    this.inverse = Arrays.copyOf(plain, plain.length);
    double[] lambda = equations.lambda;
    for (int i = 0; i < layout.restLevels; i++) {
      for (int j = envelope.first(i); j <= i; j++) {
        inverse[envelope.at(i, j)] *= lambda[i] * lambda[j];
      }
    }
  }

  /** Whether 1 - C^-1 would cancel, by component. */
  static boolean[] nearZero(EquationsLikelihood equations) {
    EffectLayout layout = equations.layout;
    double[] theta = equations.theta;
    double[] largest = new double[theta.length];
    for (int j = 0; j < layout.restLevels; j++) {
      int k = layout.factorOfColumn[j];
      largest[k] = Math.max(largest[k], equations.schur[layout.envelope.at(j, j)]);
    }
    boolean[] result = new boolean[theta.length];
    for (int k = 0; k < theta.length; k++) {
      result[k] = theta[k] * largest[k] < SMALL;
    }
    return result;
  }

  private double at(int i, int j) {
    return i >= j ? inverse[envelope.at(i, j)] : inverse[envelope.at(j, i)];
  }

  /** diag(Z_k' P Z_k) for a factor with a block, or diag(Z_k'V^-1 Z_k) without fixed columns. */
  double[] blockDiagonal(int k, FixedRows fixed) {
    double[] result = new double[equations.data.levelCount[k]];
    boolean eliminated = k == layout.eliminated;
    boolean nearZero = !eliminated && nearZero(equations)[k];
    double theta = equations.theta[k];
    for (int i = 0; i < result.length; i++) {
      int at = eliminated ? i : layout.columnOf(k, i);
      if (eliminated) {
        double low = crossQuadratic(i) / equations.inflation[i];
        result[i] = (equations.levelWeight[i] - low) / equations.inflation[i];
      } else if (nearZero) {
        result[i] = diagonalNearZero(at);
      } else {
        result[i] = (1 - inverse[envelope.at(at, at)] / theta) / theta;
      }
      double[] rows = eliminated ? fixed.eliminated() : fixed.rest();
      result[i] -= FixedRows.square(rows, at, fixed.columns());
    }
    return result;
  }

  /** b_i K b_i', b_i the weights between eliminated level i and the rest. */
  private double crossQuadratic(int i) {
    int from = layout.crossStart[i];
    int to = layout.crossStart[i + 1];
    int[] columns = layout.crossColumn;
    double[] weights = equations.crossWeight;
    double[] entries = inverse;
    double sum = 0;
    for (int c = from; c < to; c++) {
      int row = envelope.at(columns[c], 0);
      double before = 0;
      for (int d = from; d < c; d++) {
        before += weights[d] * entries[row + columns[d]];
      }
      sum += weights[c] * (2 * before + weights[c] * entries[row + columns[c]]);
    }
    return sum;
  }

  /**
   * From Z_R'V^-1 Z_R = lambda^-1 C^-1 lambda M, which loses no digits near zero; the entries of a
   * row of M lie inside the envelope.
   */
  private double diagonalNearZero(int j) {
    double[] lambda = equations.lambda;
    double sum = 0;
    for (int i = envelope.first(j); i <= j; i++) {
      int at = envelope.at(j, i);
      sum += plain[at] * (lambda[i] / lambda[j]) * equations.schur[at];
    }
    for (int i = j + 1; i < layout.restLevels; i++) {
      if (envelope.first(i) <= j) {
        int at = envelope.at(i, j);
        sum += plain[at] * (lambda[i] / lambda[j]) * equations.schur[at];
      }
    }
    return sum;
  }

  /** diag(V^-1): w - w^2 z'Kz. */
  double[] rowDiagonal() {
    ReducedRows data = equations.data;
    double[] eliminated = new double[layout.eliminatedLevels];
    double theta = equations.eliminatedVariance();
    for (int i = 0; i < eliminated.length; i++) {
      double a = equations.inflation[i];
      eliminated[i] = theta / a + theta * theta * crossQuadratic(i) / (a * a);
    }
    double[] result = new double[data.rows];
    for (int p = 0; p < result.length; p++) {
      double sum = 0;
      if (layout.eliminated >= 0) {
        int i = data.level[layout.eliminated][p];
        sum += eliminated[i] - 2 * theta * crossSum(i, p) / equations.inflation[i];
      }
      for (int[] one : layout.column) {
        for (int[] other : layout.column) {
          sum += at(one[p], other[p]);
        }
      }
      double w = equations.weight[p];
      result[p] = w - w * w * sum;
    }
    return result;
  }

  /** b_i K z_p, z_p the levels of the rest that row p has. */
  private double crossSum(int i, int p) {
    double sum = 0;
    for (int c = layout.crossStart[i]; c < layout.crossStart[i + 1]; c++) {
      for (int[] column : layout.column) {
        sum += equations.crossWeight[c] * at(layout.crossColumn[c], column[p]);
      }
    }
    return sum;
  }
}
