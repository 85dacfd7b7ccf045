package lotproof.statistics.components;

import java.util.Arrays;
import lotproof.statistics.linear.Dense;
import org.apache.commons.rng.UniformRandomProvider;
import org.apache.commons.rng.simple.RandomSource;

/**
 * Traces of P V_k P V_l = |Z_k' P Z_l|^2 (Frobenius), from images P Z_l v.
 *
 * <p>Exact, from P itself or level by level, unless that takes too long, and wherever k or l has
 * few levels, such as lots. Level by level, what only rows have follows from P V P = P, tr(P V_k) =
 * sum_l theta_l tr(P V_k P V_l).
 *
 * <p>In larger studies, between factors with many levels, the squared lengths are averaged over
 * vectors v of random signs, whose seed is fixed; of a factor with itself only what stands beside
 * the diagonal is left to chance, because the diagonal of Z_k' P Z_k is known. With n levels and m
 * probes the relative standard error of what is left to chance is about sqrt(2 / (m n)): 0.6 % with
 * 2,000 levels of a factor, 1.2 % with 400; standard errors from the information are off by half of
 * that.
 *
 * <p>Source: Hutchinson (1989), Communications in Statistics B 18 (from memory).
 */
final class ProductTraces {
  /** Multiplications that exact traces may take, a part of a second. */
  private static final double MOST_WORK = 3e8;

  /** Up to so many levels a factor is taken level by level. */
  private static final int FEW_LEVELS = 48;

  /** Below this share of the total the variance of rows loses too many digits to divide by. */
  private static final double LEAST_ROW_SHARE = 1e-4;

  /** Up to so many rows P itself is formed. */
  private static final int FEW_ROWS = 300;

  /** Levels whose images are taken together. */
  private static final int BLOCK = 64;

  private static final int PROBES = 32;
  private static final long SEED = 20260908;

  private final Likelihood likelihood;
  private final CellMeans data;
  private final int residual;
  private final boolean probed;

  ProductTraces(Likelihood likelihood) {
    this(likelihood, probed(likelihood.data));
  }

  ProductTraces(Likelihood likelihood, boolean probed) {
    this.likelihood = likelihood;
    this.data = likelihood.data;
    this.residual = data.factors();
    this.probed = probed;
  }

  /** True where some traces are rounded by chance. */
  static boolean probed(CellMeans data) {
    int images = 0;
    for (int k = 0; k < data.factors(); k++) {
      images += k == data.rowFactor && data.equalReadings() ? 0 : data.levelCount[k];
    }
    double image = 2.0 * data.order().pattern.size() + (double) data.rows * data.components();
    return images * image > MOST_WORK;
  }

  double[][] of() {
    return !probed && data.rows <= FEW_ROWS ? fromRows() : fromLevels();
  }

  /** From P itself: sums over its rows, then over its columns. */
  double[][] fromRows() {
    int count = data.components();
    double[][] result = new double[count][count];
    double[][] identity = new double[data.rows][data.rows];
    for (int p = 0; p < data.rows; p++) {
      identity[p][p] = 1;
    }
    double[][] whole = likelihood.project(identity);
    for (int k = 0; k < count; k++) {
      boolean own = k == residual || k == data.rowFactor;
      double[][] rows = own ? whole : gathered(k, whole);
      double[] columns = new double[data.rows];
      for (int i = 0; i < rows.length; i++) {
        double weight = k == residual ? 1 / data.readings[i] : 1;
        for (int p = 0; p < columns.length; p++) {
          columns[p] += weight * rows[i][p] * rows[i][p];
        }
      }
      for (int l = k; l < count; l++) {
        result[k][l] = l < residual ? levelSquares(l, rows, columns) : overReadings(columns);
        result[l][k] = result[k][l];
      }
    }
    return result;
  }

  /** Sum of the squares of the rows' sums over each level. */
  private double levelSquares(int l, double[][] rows, double[] columns) {
    double sum = 0;
    if (l == data.rowFactor) {
      for (double square : columns) {
        sum += square;
      }
      return sum;
    }
    int[] level = data.level[l];
    double[] sums = new double[data.levelCount[l]];
    for (double[] row : rows) {
      Arrays.fill(sums, 0);
      for (int p = 0; p < row.length; p++) {
        sums[level[p]] += row[p];
      }
      sum += squares(sums);
    }
    return sum;
  }

  private double overReadings(double[] columns) {
    double sum = 0;
    for (int p = 0; p < columns.length; p++) {
      sum += columns[p] / data.readings[p];
    }
    return sum;
  }

  private static double squares(double[] v) {
    return Dense.dot(v, v);
  }

  /** Level by level, or by probes. */
  double[][] fromLevels() {
    int count = data.components();
    double[][] result = new double[count][count];
    double[] theta = likelihood.point();
    int last = data.rowFactor >= 0 && data.equalReadings() ? data.rowFactor : residual;
    double readings = last == residual ? 1 : data.readings[0];
    double own = theta[residual] / readings + (last == residual ? 0 : theta[last]);
    boolean follows = !probed && own > LEAST_ROW_SHARE * Arrays.stream(theta).sum();
    for (int l = 0; l < count; l++) {
      if (follows && (l == last || l == residual)) {
        continue;
      }
      double[] column = byLevel(l) ? levelByLevel(l, result[l]) : byProbes(l);
      for (int k = 0; k < count; k++) {
        if (k == l || byLevel(l)) {
          result[k][l] = column[k];
          result[l][k] = column[k];
        } else if (!byLevel(k)) {
          // seen from both sides
          result[k][l] += column[k] / 2;
          result[l][k] += column[k] / 2;
        }
      }
    }
    if (follows) {
      double left = likelihood.traces()[last];
      for (int l = 0; l < residual; l++) {
        left -= l == last ? 0 : theta[l] * result[l][last];
      }
      result[last][last] = left / own;
      result[residual][last] = result[last][last] / readings;
      result[last][residual] = result[residual][last];
      result[residual][residual] = result[residual][last] / readings;
    }
    return result;
  }

  private boolean byLevel(int k) {
    return !probed || (k < residual && k != data.rowFactor && data.levelCount[k] <= FEW_LEVELS);
  }

  /**
   * The traces of l with all factors.
   *
   * @param known those seen from the other side already; 0 where not
   */
  private double[] levelByLevel(int l, double[] known) {
    double[] sums = known.clone();
    int levels = l == residual ? data.rows : data.levelCount[l];
    for (int from = 0; from < levels; from += BLOCK) {
      double[][] own = new double[levels][Math.min(BLOCK, levels - from)];
      for (int i = 0; i < own[0].length; i++) {
        own[from + i][i] = 1;
      }
      double[][] image = image(l, own);
      for (int k = 0; k < sums.length; k++) {
        if (known[k] == 0) {
          double[][] gathered = k < residual ? gathered(k, image) : image;
          for (int i = 0; i < gathered.length; i++) {
            double square = squares(gathered[i]);
            sums[k] += k < residual ? square : square / data.readings[i];
          }
        }
      }
    }
    return sums;
  }

  private double[] byProbes(int l) {
    double[] diagonal = diagonal(l);
    double[] sums = new double[data.components()];
    UniformRandomProvider random = RandomSource.SPLIT_MIX_64.create(SEED);
    double[][] probes = new double[diagonal.length][PROBES];
    for (int repeat = 0; repeat < PROBES; repeat++) {
      for (double[] row : probes) {
        row[repeat] = random.nextBoolean() ? 1 : -1;
      }
    }
    double[][] image = image(l, probes);
    for (int k = 0; k < sums.length; k++) {
      boolean rows = k == residual && l != residual;
      double[][] gathered = rows ? image : gathered(k, image);
      for (int i = 0; i < gathered.length; i++) {
        if (k == l) {
          Dense.addScaled(gathered[i], 0, -diagonal[i], probes[i], 0, PROBES);
        }
        sums[k] += squares(gathered[i]) / PROBES / (rows ? data.readings[i] : 1);
      }
    }
    sums[l] += squares(diagonal);
    return sums;
  }

  /** diag(Z_l' P Z_l). */
  private double[] diagonal(int l) {
    if (l < residual) {
      return likelihood.levelDiagonal(l);
    }
    double[] result = likelihood.rowDiagonal();
    for (int p = 0; p < result.length; p++) {
      result[p] /= data.readings[p];
    }
    return result;
  }

  /** P Z_l V, V one array for each level. */
  private double[][] image(int l, double[][] v) {
    double[][] spread = new double[data.rows][];
    for (int p = 0; p < spread.length; p++) {
      spread[p] = l == residual ? overRootOfReadings(p, v[p]) : v[data.level[l][p]];
    }
    return likelihood.project(spread);
  }

  /** Z_k' V, V one array for each row. */
  private double[][] gathered(int k, double[][] v) {
    if (k == residual) {
      double[][] result = new double[v.length][];
      Arrays.setAll(result, p -> overRootOfReadings(p, v[p]));
      return result;
    }
    double[][] result = new double[data.levelCount[k]][v[0].length];
    for (int p = 0; p < v.length; p++) {
      Dense.addScaled(result[data.level[k][p]], 0, 1, v[p], 0, v[p].length);
    }
    return result;
  }

  private double[] overRootOfReadings(int row, double[] v) {
    double[] result = new double[v.length];
    Dense.addScaled(result, 0, 1 / Math.sqrt(data.readings[row]), v, 0, v.length);
    return result;
  }
}
