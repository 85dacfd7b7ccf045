package lotproof.statistics.components;

/**
 * Traces that involve the rows themselves: the residual and, where there is one, the factor with a
 * level for each row.
 *
 * <p>From Q V Q = Q follow tr(Q V_k) = sum_l theta_l tr(Q V_k Q V_l) and sum_k theta_k tr(Q V_k) =
 * rank of Q. With one diagonal component, or with two that differ by a factor only, these give all
 * that is missing. With a row factor and unequal numbers of readings, the traces of the row factor
 * are computed from the inverse equations first.
 */
final class RowTraces {
  private final EquationsLikelihood equations;
  private final ReducedRows data;
  private final EffectLayout layout;
  private final double[] theta;
  private final int residual;
  private final double rank;

  RowTraces(EquationsLikelihood equations) {
    this.equations = equations;
    this.data = equations.data;
    this.layout = equations.layout;
    this.theta = equations.theta;
    this.residual = data.factors();
    this.rank = data.rows - (equations.restricted ? data.fixed.length : 0);
  }

  /** Expects the traces of factors with a block and adds the others. */
  void addTraces(double[] first) {
    int row = data.rowFactor;
    if (row >= 0 && !data.equalReadings()) {
      for (double value : equations.criterionDiagonal()) {
        first[row] += value;
      }
      row = -1;
    }
    int known = row < 0 ? residual : row;
    double rest = rank;
    for (int k = 0; k < residual; k++) {
      rest -= k == known ? 0 : theta[k] * first[k];
    }
    if (row < 0) {
      first[residual] = rest / theta[residual];
    } else {
      double r = data.readings[0];
      first[row] = rest / (theta[row] + theta[residual] / r);
      first[residual] = first[row] / r;
    }
  }

  /** Expects the traces between factors with a block and adds the others. */
  void fill(double[] first, double[][] second) {
    if (data.rowFactor < 0) {
      byIdentity(first, second, residual, theta[residual]);
    } else if (data.equalReadings()) {
      double r = data.readings[0];
      int row = data.rowFactor;
      byIdentity(first, second, row, theta[row] + theta[residual] / r);
      first[residual] = first[row] / r;
      for (int k = 0; k < residual; k++) {
        second[k][residual] = second[k][row] / r;
        second[residual][k] = second[k][residual];
      }
      second[residual][residual] = second[row][row] / (r * r);
    } else {
      rowFactor(first, second);
      byIdentity(first, second, residual, theta[residual]);
    }
  }

  /** Traces of diagonal component d, whose variance is {@code own}, from those of the others. */
  private void byIdentity(double[] first, double[][] second, int d, double own) {
    double rest = rank;
    for (int k = 0; k < residual; k++) {
      rest -= k == d ? 0 : theta[k] * first[k];
    }
    first[d] = rest / own;
    double last = first[d];
    for (int k = 0; k < residual; k++) {
      if (k == d) {
        continue;
      }
      double sum = first[k];
      for (int l = 0; l < residual; l++) {
        sum -= l == d ? 0 : theta[l] * second[k][l];
      }
      second[k][d] = sum / own;
      second[d][k] = second[k][d];
      last -= theta[k] * second[k][d];
    }
    second[d][d] = last / own;
  }

  private void rowFactor(double[] first, double[][] second) {
    int row = data.rowFactor;
    double[] diagonal = equations.criterionDiagonal();
    double trace = 0;
    double squares = 0;
    for (int p = 0; p < data.rows; p++) {
      double w = equations.weight[p];
      trace += diagonal[p];
      // tr(QQ) = sum w^2 - 2 sum w^3 z'Kz + tr(K S K S), with w^2 z'Kz = w - diagonal
      squares += w * w - 2 * w * (w - diagonal[p]);
    }
    first[row] = trace;
    int levels = layout.eliminatedLevels + layout.restLevels;
    double[] k = new EffectInverse(equations).full(equations.restricted);
    int size = levels + (equations.restricted ? data.fixed.length : 0);
    double[] product = weightedProduct(k, size, levels);
    double[] byFactor = new double[residual];
    for (int i = 0; i < size; i++) {
      for (int j = 0; j < size; j++) {
        squares += product[i * size + j] * product[j * size + i];
      }
      if (i < levels) {
        byFactor[factorOf(i)] += Dense.dot(product, i * size, k, i * size, size);
      }
    }
    second[row][row] = squares;
    for (int l = 0; l < residual; l++) {
      if (l != row) {
        double value = theta[l] > 0 ? byFactor[l] / (theta[l] * theta[l]) : zeroComponent(l);
        second[row][l] = value;
        second[l][row] = value;
      }
    }
  }

  /** K S with S = Z'W W Z, row by row of the data. */
  private double[] weightedProduct(double[] k, int size, int levels) {
    double[] transposed = new double[size * size];
    double[] combined = new double[size];
    for (int p = 0; p < data.rows; p++) {
      java.util.Arrays.fill(combined, 0);
      double w = equations.weight[p] * equations.weight[p];
      if (layout.eliminated >= 0) {
        Dense.addScaled(combined, 0, w, k, data.level[layout.eliminated][p] * size, size);
      }
      for (int[] column : layout.column) {
        Dense.addScaled(combined, 0, w, k, (layout.eliminatedLevels + column[p]) * size, size);
      }
      for (int c = levels; c < size; c++) {
        Dense.addScaled(combined, 0, w * data.fixed[c - levels][p], k, c * size, size);
      }
      if (layout.eliminated >= 0) {
        int at = data.level[layout.eliminated][p] * size;
        Dense.addScaled(transposed, at, 1, combined, 0, size);
      }
      for (int[] column : layout.column) {
        int at = (layout.eliminatedLevels + column[p]) * size;
        Dense.addScaled(transposed, at, 1, combined, 0, size);
      }
      for (int c = levels; c < size; c++) {
        Dense.addScaled(transposed, c * size, data.fixed[c - levels][p], combined, 0, size);
      }
    }
    double[] product = new double[size * size];
    for (int i = 0; i < size; i++) {
      for (int j = 0; j < size; j++) {
        product[i * size + j] = transposed[j * size + i];
      }
    }
    return product;
  }

  private int factorOf(int level) {
    return level < layout.eliminatedLevels
        ? layout.eliminated
        : layout.factorOfColumn[level - layout.eliminatedLevels];
  }

  /** |Q Z_l|^2 where component l is zero, level by level. */
  private double zeroComponent(int l) {
    double sum = 0;
    double[] indicator = new double[data.rows];
    for (int level = 0; level < data.levelCount[l]; level++) {
      for (int p = 0; p < indicator.length; p++) {
        indicator[p] = data.level[l][p] == level ? 1 : 0;
      }
      double[] image =
          equations.restricted ? equations.project(indicator) : equations.whiten(indicator);
      sum += Dense.dot(image, image);
    }
    return sum;
  }
}
