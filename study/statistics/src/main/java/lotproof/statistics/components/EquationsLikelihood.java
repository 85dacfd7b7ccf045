package lotproof.statistics.components;

import java.util.Arrays;
import org.jspecify.annotations.Nullable;

/**
 * The likelihood through the equations of the effects (Henderson): the rows are only summed, the
 * factor with most levels is eliminated as a diagonal block, and what is left to factor has as many
 * rows as the remaining factors have levels. V = D + Z Theta Z', D diagonal and positive.
 *
 * <p>With a_i = 1 + theta_E s_i for the eliminated factor E, B the weights of the cells between E
 * and the rest, M = Z_R' V_E^-1 Z_R and lambda = sqrt(theta) of the rest: C = I + lambda M lambda,
 * log|V| = log|D| + sum log a_i + log|C|, and K = lambda C^-1 lambda is the block of the rest in
 * the inverse equations. A component at zero needs no special form.
 *
 * <p>Traces that belong to the rows themselves come from P V P = P, that is tr(Q V_k) = sum_l
 * theta_l tr(Q V_k Q V_l); see {@link RowTraces}.
 *
 * <p>Sources: Henderson's mixed model equations as in Searle, Casella and McCulloch (1992), section
 * 7.6 (from memory); the layout follows Bates, Maechler, Bolker and Walker (2015), J. Stat. Softw.
 * 67(1) (from memory).
 */
final class EquationsLikelihood extends Likelihood {
  /** Stands for a variance of zero: changes no digit, and can be divided by. */
  private static final double NO_VARIANCE = 1e-200;

  final EffectLayout layout;
  double[] theta = new double[0];

  /** Inverse variance of each row by itself. */
  final double[] weight;

  /** Sum of weights, and 1 + theta_E times it, for each eliminated level. */
  final double[] levelWeight;

  final double[] inflation;
  final double[] crossWeight;

  /** Lower triangle of M, inside the envelope. */
  final double[] schur;

  final double[] lambda;

  /** Cholesky factor of C, inside the envelope. */
  final double[] factor;

  private @Nullable SelectedInverse selected;
  private double @Nullable [] restInverse;
  private double @Nullable [] crossInverse;
  private final double[][] whitened;
  private double[] gramFactor = new double[0];
  private double[][] covariance = new double[0][];
  private boolean whitenedKnown;

  EquationsLikelihood(ReducedRows data, Criterion criterion) {
    super(data, criterion);
    layout = data.layout();
    int q = layout.restLevels;
    weight = new double[data.rows];
    levelWeight = new double[layout.eliminatedLevels];
    inflation = new double[layout.eliminatedLevels];
    crossWeight = new double[layout.crossColumn.length];
    schur = new double[layout.envelope.size()];
    factor = new double[layout.envelope.size()];
    lambda = new double[q];
    whitened = new double[data.fixed.length][];
  }

  @Override
  double[] point() {
    return theta;
  }

  double eliminatedVariance() {
    return layout.eliminated < 0 ? 0 : theta[layout.eliminated];
  }

  @Override
  double rowLogLikelihood(double[] point) {
    theta = point.clone();
    selected = null;
    restInverse = null;
    crossInverse = null;
    whitenedKnown = false;
    double residual = theta[data.factors()];
    double own = data.rowFactor < 0 ? 0 : theta[data.rowFactor];
    double logDeterminant = 0;
    double readings = 0;
    double rowWeight = 0;
    double rowLog = 0;
    for (int p = 0; p < data.rows; p++) {
      // runs of rows with equal numbers of readings are the rule
      if (data.readings[p] != readings) {
        readings = data.readings[p];
        double variance = own + residual / readings;
        if (!(variance > 0)) {
          return Double.NEGATIVE_INFINITY;
        }
        rowWeight = 1 / variance;
        rowLog = Math.log(variance);
      }
      weight[p] = rowWeight;
      logDeterminant += rowLog;
    }
    sumWeights();
    for (double a : inflation) {
      logDeterminant += Math.log(a);
    }
    buildSchur();
    Envelope envelope = layout.envelope;
    for (int j = 0; j < layout.restLevels; j++) {
      lambda[j] = Math.sqrt(Math.max(theta[layout.factorOfColumn[j]], NO_VARIANCE));
      for (int k = envelope.first(j); k <= j; k++) {
        int at = envelope.at(j, k);
        factor[at] = lambda[j] * schur[at] * lambda[k];
      }
      factor[envelope.at(j, j)] += 1;
    }
    if (!envelope.cholesky(factor)) {
      return Double.NEGATIVE_INFINITY;
    }
    logDeterminant += envelope.logDeterminant(factor);
    return -0.5 * (logDeterminant + fixedAndQuadratic());
  }

  private void sumWeights() {
    Arrays.fill(levelWeight, 0);
    Arrays.fill(crossWeight, 0);
    if (layout.eliminated < 0) {
      return;
    }
    int[] level = data.level[layout.eliminated];
    for (int p = 0; p < data.rows; p++) {
      levelWeight[level[p]] += weight[p];
    }
    for (int[] cell : layout.cross) {
      for (int p = 0; p < data.rows; p++) {
        crossWeight[cell[p]] += weight[p];
      }
    }
    double variance = eliminatedVariance();
    for (int i = 0; i < inflation.length; i++) {
      inflation[i] = 1 + variance * levelWeight[i];
    }
  }

  private void buildSchur() {
    Envelope envelope = layout.envelope;
    Arrays.fill(schur, 0);
    for (int f = 0; f < layout.rest.length; f++) {
      int[] rows = layout.column[f];
      for (int g = 0; g <= f; g++) {
        int[] columns = layout.column[g];
        for (int p = 0; p < rows.length; p++) {
          schur[envelope.at(rows[p], columns[p])] += weight[p];
        }
      }
    }
    double variance = eliminatedVariance();
    for (int i = 0; i < inflation.length; i++) {
      double shrink = variance / inflation[i];
      int from = layout.crossStart[i];
      int to = layout.crossStart[i + 1];
      for (int c = from; c < to; c++) {
        int row = envelope.at(layout.crossColumn[c], 0);
        double part = shrink * crossWeight[c];
        for (int d = from; d <= c; d++) {
          schur[row + layout.crossColumn[d]] -= part * crossWeight[d];
        }
      }
    }
  }

  /** log|X'V^-1 X| where the criterion has it, plus y'Py. */
  private double fixedAndQuadratic() {
    int columns = data.fixed.length;
    double[][] vectors = Arrays.copyOf(data.fixed, columns + 1);
    vectors[columns] = data.y;
    double[][] cleared = new double[columns + 1][];
    double[][] reduced = new double[columns + 1][];
    for (int c = 0; c <= columns; c++) {
      cleared[c] = clearEliminated(vectors[c]);
      reduced[c] = restSums(cleared[c]);
      layout.envelope.solveLower(factor, reduced[c]);
    }
    double[] gram = new double[columns * columns];
    double[] right = new double[columns];
    for (int a = 0; a < columns; a++) {
      for (int b = 0; b <= a; b++) {
        gram[a * columns + b] =
            Dense.dot(vectors[a], cleared[b]) - Dense.dot(reduced[a], reduced[b]);
      }
      right[a] = Dense.dot(vectors[a], cleared[columns]) - Dense.dot(reduced[a], reduced[columns]);
    }
    SmallGram small = SmallGram.ofLower(gram, columns);
    if (!small.positive()) {
      return Double.POSITIVE_INFINITY;
    }
    gramFactor = small.factor();
    covariance = small.inverse();
    Dense.solveLower(gramFactor, columns, right);
    double quadratic =
        Dense.dot(data.y, cleared[columns])
            - Dense.dot(reduced[columns], reduced[columns])
            - Dense.dot(right, right);
    return quadratic + (restricted ? small.logDeterminant() : 0);
  }

  /** V_E^-1 v, V_E = D + theta_E Z_E Z_E'. */
  private double[] clearEliminated(double[] v) {
    double[] result = new double[v.length];
    double[] own = weight;
    for (int p = 0; p < v.length; p++) {
      result[p] = own[p] * v[p];
    }
    if (layout.eliminated >= 0) {
      double[] sums = levelSums(layout.eliminated, result);
      double variance = eliminatedVariance();
      int[] level = data.level[layout.eliminated];
      double[] growth = inflation;
      for (int i = 0; i < sums.length; i++) {
        sums[i] *= variance / growth[i];
      }
      for (int p = 0; p < v.length; p++) {
        result[p] -= own[p] * sums[level[p]];
      }
    }
    return result;
  }

  /** lambda Z_R' v. */
  private double[] restSums(double[] v) {
    double[] sums = new double[layout.restLevels];
    for (int[] column : layout.column) {
      for (int p = 0; p < v.length; p++) {
        sums[column[p]] += v[p];
      }
    }
    for (int j = 0; j < sums.length; j++) {
      sums[j] *= lambda[j];
    }
    return sums;
  }

  /** V^-1 v. */
  double[] whiten(double[] v) {
    double[] cleared = clearEliminated(v);
    if (layout.restLevels == 0) {
      return cleared;
    }
    double[] rest = restSums(cleared);
    layout.envelope.solveLower(factor, rest);
    layout.envelope.solveUpper(factor, rest);
    for (int j = 0; j < rest.length; j++) {
      rest[j] *= lambda[j];
    }
    double[] spread = new double[v.length];
    for (int[] column : layout.column) {
      for (int p = 0; p < v.length; p++) {
        spread[p] += rest[column[p]];
      }
    }
    double[] correction = clearEliminated(spread);
    for (int p = 0; p < v.length; p++) {
      cleared[p] -= correction[p];
    }
    return cleared;
  }

  @Override
  double[] project(double[] v) {
    double[] result = whiten(v);
    double[][] columns = whitenedFixed();
    double[] products = new double[columns.length];
    for (int c = 0; c < columns.length; c++) {
      products[c] = Dense.dot(columns[c], v);
    }
    for (int a = 0; a < columns.length; a++) {
      double coefficient = 0;
      for (int b = 0; b < columns.length; b++) {
        coefficient += covariance[a][b] * products[b];
      }
      Dense.addScaled(result, 0, -coefficient, columns[a], 0, result.length);
    }
    return result;
  }

  /** From half a solution for each vector: P v itself is not needed. */
  @Override
  double[][] projectedProducts(double[][] vectors) {
    double[][] columns = whitenedFixed();
    double[][] cleared = new double[vectors.length][];
    double[][] reduced = new double[vectors.length][];
    double[][] onFixed = new double[vectors.length][columns.length];
    double[][] result = new double[vectors.length][vectors.length];
    for (int k = 0; k < vectors.length; k++) {
      cleared[k] = clearEliminated(vectors[k]);
      reduced[k] = restSums(cleared[k]);
      layout.envelope.solveLower(factor, reduced[k]);
      for (int c = 0; c < columns.length; c++) {
        onFixed[k][c] = Dense.dot(columns[c], vectors[k]);
      }
      double[] fixed = SmallMatrix.times(covariance, onFixed[k]);
      for (int l = 0; l <= k; l++) {
        result[k][l] =
            Dense.dot(vectors[k], cleared[l])
                - Dense.dot(reduced[k], reduced[l])
                - Dense.dot(fixed, onFixed[l]);
      }
    }
    return result;
  }

  @Override
  double[][] fixedCovariance() {
    return covariance;
  }

  @Override
  double[][] whitenedFixed() {
    if (!whitenedKnown) {
      for (int c = 0; c < whitened.length; c++) {
        whitened[c] = whiten(data.fixed[c]);
      }
      whitenedKnown = true;
    }
    return whitened;
  }

  /** Factor L of X'V^-1 X = L L', row by row. */
  double[] gramFactor() {
    return gramFactor;
  }

  /** The entries of K that single traces and diagonals need. */
  SelectedInverse selected() {
    SelectedInverse known = selected;
    if (known == null) {
      known = new SelectedInverse(this);
      selected = known;
    }
    return known;
  }

  /** K, the whole of it, square. */
  double[] restInverse() {
    double[] known = restInverse;
    if (known == null) {
      int q = layout.restLevels;
      known = layout.envelope.inverse(factor);
      for (int i = 0; i < q; i++) {
        for (int j = 0; j < q; j++) {
          known[i * q + j] *= lambda[i] * lambda[j];
        }
      }
      restInverse = known;
    }
    return known;
  }

  /** (1/a) B K at the point. */
  double[] crossInverse() {
    double[] known = crossInverse;
    if (known == null) {
      known = BlockTraces.crossInverse(this);
      crossInverse = known;
    }
    return known;
  }

  @Override
  double[] traces() {
    double[] result = new double[data.components()];
    FixedRows fixed = FixedRows.underCriterion(this);
    for (int k : layout.blocks()) {
      for (double value : selected().blockDiagonal(k, fixed)) {
        result[k] += value;
      }
    }
    new RowTraces(this).addTraces(result);
    return result;
  }

  @Override
  double[][] productTraces() {
    if (ProbedTraces.pays(this)) {
      return new ProbedTraces(this).productTraces();
    }
    if (RowProjection.pays(this)) {
      return new RowProjection(this).productTraces();
    }
    double[] first = new double[data.components()];
    double[][] second = new double[first.length][first.length];
    new BlockTraces(this).fill(first, second);
    new RowTraces(this).fill(first, second);
    return second;
  }

  /** diag(Q). */
  double[] criterionDiagonal() {
    return restricted ? projectionDiagonal() : selected().rowDiagonal();
  }

  @Override
  double[] projectionDiagonal() {
    double[] result = selected().rowDiagonal();
    double[][] columns = whitenedFixed();
    for (int p = 0; p < result.length; p++) {
      for (int a = 0; a < columns.length; a++) {
        for (int b = 0; b < columns.length; b++) {
          result[p] -= columns[a][p] * covariance[a][b] * columns[b][p];
        }
      }
    }
    return result;
  }

  @Override
  double[] levelDiagonal(int k) {
    if (k == data.rowFactor) {
      double[] rows = projectionDiagonal();
      double[] result = new double[data.levelCount[k]];
      for (int p = 0; p < rows.length; p++) {
        result[data.level[k][p]] = rows[p];
      }
      return result;
    }
    return selected().blockDiagonal(k, FixedRows.all(this));
  }
}
