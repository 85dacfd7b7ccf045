package lotproof.statistics.components;

import org.apache.commons.rng.UniformRandomProvider;
import org.apache.commons.rng.simple.RandomSource;

/**
 * Traces of Q V_k Q V_l for studies of thousands of units, where the whole inverse would take
 * minutes: tr(Q V_k Q V_l) = |Z_k' Q Z_l|^2 (Frobenius), from the images Q Z_l v of columns or of
 * probes. Exact where k or l has few levels, such as lots. Between factors with many levels the
 * squared lengths are averaged over vectors v of random signs, whose seed is fixed; of a factor
 * with itself only what stands beside the diagonal is left to chance, because the diagonal of Z_k'
 * Q Z_k is known. With n levels and m probes the relative standard error of what is left to chance
 * is about sqrt(2 / (m n)): 0.6 % with 2,000 levels of a factor, 0.8 % with 1,000, 1.2 % with 400;
 * standard errors from the information are off by half of that.
 *
 * <p>Source: Hutchinson (1989), Communications in Statistics B 18 (from memory).
 */
final class ProbedTraces {
  /** Levels of all factors with a block from which the whole inverse costs more than probes. */
  private static final int MOST_LEVELS = 2000;

  /** The same where the rows themselves need an inverse. */
  private static final int MOST_LEVELS_WITH_ROWS = 800;

  /** Up to so many levels a factor is taken level by level. */
  private static final int FEW_LEVELS = 48;

  private static final int PROBES = 32;
  private static final long SEED = 20260908;

  private final EquationsLikelihood equations;
  private final ReducedRows data;
  private final int residual;

  /** diag(Q), asked for by the row factor and the residual. */
  private final double[] rowDiagonal;

  ProbedTraces(EquationsLikelihood equations) {
    this.equations = equations;
    this.data = equations.data;
    this.residual = data.factors();
    this.rowDiagonal = equations.criterionDiagonal();
  }

  static boolean pays(EquationsLikelihood equations) {
    EffectLayout layout = equations.layout;
    ReducedRows data = equations.data;
    boolean rows = data.rowFactor >= 0 && !data.equalReadings();
    int levels = layout.eliminatedLevels + layout.restLevels;
    return levels > (rows ? MOST_LEVELS_WITH_ROWS : MOST_LEVELS);
  }

  double[][] productTraces() {
    int count = data.components();
    double[][] result = new double[count][count];
    for (int l = 0; l < count; l++) {
      double[] column = few(l) ? byLevel(l) : byProbes(l);
      for (int k = 0; k < count; k++) {
        if (k == l || few(l)) {
          result[k][l] = column[k];
          result[l][k] = column[k];
        } else if (!few(k)) {
          // seen from both sides
          result[k][l] += column[k] / 2;
          result[l][k] += column[k] / 2;
        }
      }
    }
    return result;
  }

  private boolean few(int k) {
    return k < residual && k != data.rowFactor && data.levelCount[k] <= FEW_LEVELS;
  }

  private double[] byLevel(int l) {
    double[] sums = new double[data.components()];
    double[] one = new double[data.levelCount[l]];
    for (int i = 0; i < one.length; i++) {
      one[i] = 1;
      double[] image = image(l, one);
      one[i] = 0;
      for (int k = 0; k < sums.length; k++) {
        double[] gathered = gathered(k, image);
        sums[k] += Dense.dot(gathered, gathered);
      }
    }
    return sums;
  }

  private double[] byProbes(int l) {
    double[] diagonal = diagonal(l);
    double[] sums = new double[data.components()];
    UniformRandomProvider random = RandomSource.SPLIT_MIX_64.create(SEED);
    double[] probe = new double[diagonal.length];
    for (int repeat = 0; repeat < PROBES; repeat++) {
      for (int i = 0; i < probe.length; i++) {
        probe[i] = random.nextBoolean() ? 1 : -1;
      }
      double[] image = image(l, probe);
      for (int k = 0; k < sums.length; k++) {
        double[] gathered = gathered(k, image);
        if (k == l) {
          for (int i = 0; i < gathered.length; i++) {
            gathered[i] -= diagonal[i] * probe[i];
          }
        }
        sums[k] += Dense.dot(gathered, gathered) / PROBES;
      }
    }
    sums[l] += Dense.dot(diagonal, diagonal);
    return sums;
  }

  /** diag(Z_l' Q Z_l). */
  private double[] diagonal(int l) {
    if (l < residual && l != data.rowFactor) {
      return equations.selected().blockDiagonal(l, FixedRows.underCriterion(equations));
    }
    double[] result = rowDiagonal.clone();
    for (int p = 0; p < result.length && l == residual; p++) {
      result[p] /= data.readings[p];
    }
    return result;
  }

  /** Q Z_l v; the rows themselves stand for the levels of the row factor. */
  private double[] image(int l, double[] v) {
    double[] spread = new double[data.rows];
    for (int p = 0; p < spread.length; p++) {
      if (l == residual) {
        spread[p] = v[p] / Math.sqrt(data.readings[p]);
      } else {
        spread[p] = l == data.rowFactor ? v[p] : v[data.level[l][p]];
      }
    }
    return equations.restricted ? equations.project(spread) : equations.whiten(spread);
  }

  /** Z_k' v. */
  private double[] gathered(int k, double[] v) {
    if (k < residual && k != data.rowFactor) {
      return equations.levelSums(k, v);
    }
    double[] result = v.clone();
    for (int p = 0; p < result.length && k == residual; p++) {
      result[p] /= Math.sqrt(data.readings[p]);
    }
    return result;
  }
}
