package lotproof.statistics.components;

/**
 * Inverse of the equations of all effects, the fixed columns last, so that P = W - W Z K Z'W with W
 * the row weights. Without the fixed columns the same holds for V^-1.
 */
final class EffectInverse {
  private final EquationsLikelihood equations;
  private final EffectLayout layout;
  private final ReducedRows data;
  private final double[] restInverse;
  private final double[] crossInverse;

  EffectInverse(EquationsLikelihood equations) {
    this.equations = equations;
    this.layout = equations.layout;
    this.data = equations.data;
    this.restInverse = equations.restInverse();
    this.crossInverse = equations.crossInverse();
  }

  /** The whole inverse, square, eliminated levels first; with the fixed columns on request. */
  double[] full(boolean withFixed) {
    int e = layout.eliminatedLevels;
    int q = layout.restLevels;
    int levels = e + q;
    int size = levels + (withFixed ? data.fixed.length : 0);
    double[] k = new double[size * size];
    double thetaE = equations.eliminatedVariance();
    for (int i = 0; i < e; i++) {
      for (int j = 0; j < q; j++) {
        double value = -thetaE * crossInverse[i * q + j];
        k[i * size + e + j] = value;
        k[(e + j) * size + i] = value;
      }
      for (int m = 0; m < e; m++) {
        double factor = thetaE * thetaE / equations.inflation[m];
        double sum = 0;
        for (int c = layout.crossStart[m]; c < layout.crossStart[m + 1]; c++) {
          sum += crossInverse[i * q + layout.crossColumn[c]] * equations.crossWeight[c];
        }
        k[i * size + m] = factor * sum;
      }
      k[i * size + i] += thetaE / equations.inflation[i];
    }
    for (int i = 0; i < q; i++) {
      System.arraycopy(restInverse, i * q, k, (e + i) * size + e, q);
    }
    if (withFixed) {
      addFixed(k, size, levels);
    }
    return k;
  }

  private void addFixed(double[] k, int size, int levels) {
    int columns = data.fixed.length;
    double[][] whitened = equations.whitenedFixed();
    double[][] covariance = equations.fixedCovariance();
    // K Z'WX = Theta Z'V^-1 X
    double[][] pulled = new double[columns][levels];
    for (int c = 0; c < columns; c++) {
      if (layout.eliminated >= 0) {
        double[] sums = equations.levelSums(layout.eliminated, whitened[c]);
        for (int i = 0; i < sums.length; i++) {
          pulled[c][i] = equations.eliminatedVariance() * sums[i];
        }
      }
      for (int[] column : layout.column) {
        for (int p = 0; p < data.rows; p++) {
          double variance = equations.theta[layout.factorOfColumn[column[p]]];
          pulled[c][layout.eliminatedLevels + column[p]] += variance * whitened[c][p];
        }
      }
    }
    for (int a = 0; a < columns; a++) {
      for (int b = 0; b < columns; b++) {
        double factor = covariance[a][b];
        k[(levels + a) * size + levels + b] = factor;
        for (int i = 0; i < levels; i++) {
          k[i * size + levels + b] -= factor * pulled[a][i];
          k[(levels + b) * size + i] -= factor * pulled[a][i];
          Dense.addScaled(k, i * size, factor * pulled[a][i], pulled[b], 0, levels);
        }
      }
    }
  }
}
