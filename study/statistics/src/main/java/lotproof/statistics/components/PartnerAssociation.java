package lotproof.statistics.components;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.SplittableRandom;

/**
 * Whether the effects of partners, such as a cell and the board that it was joined with first, go
 * together, where the fitted model takes them as independent.
 *
 * <p>Beside V = sum of theta_k V_k the covariance s of partners' effects would add s A, with A_ij
 * the number of ways in which observations i and j belong one to a unit and the other to its
 * partner. With P = V^-1 - V^-1 1 1'V^-1 / (1'V^-1 1), U_k = (y'P V_k P y - tr(P V_k)) / 2 and I_kl
 * = tr(P V_k P V_l) / 2 at the REML fit without s, the efficient score is
 *
 * <pre>U = U_A - I_A,theta I_theta^-1 U_theta</pre>
 *
 * over the components that are not at zero; s is about U / (I_AA - I_A,theta I_theta^-1 I_theta,A).
 * How often chance alone gives so large a |U| is found by resampling: the whitened residuals C^-1
 * (y - mean), V = C C', are put in another order and coloured again. So the design's own
 * correlations between predicted effects count, and tails heavier than normal ones do too.
 *
 * <p>Score test: textbook (Rao 1948; for variance components Verbeke and Molenberghs 2003, both
 * from memory). Resampling of whitened residuals at fixed variances: a construction, whose level is
 * simulated.
 *
 * @param covariance estimate of s by one scoring step, in the square of the values' unit
 * @param correlation the same over the standard deviations by one scoring step, cut to -1..1; its
 *     sign alone where these are at zero
 * @param chance how often chance alone gives so much, two-sided; at least 1 / (resamples + 1)
 * @param partners partners that were looked at
 */
public record PartnerAssociation(
    double covariance, double correlation, double chance, int partners) {
  private static final int RESAMPLES = 1999;

  /** A residual of zero still gets this share of the total variance. */
  private static final double SMALLEST_RESIDUAL = 1e-6;

  /** Group sums of one component: observations of the same level. */
  @SuppressWarnings("ArrayRecordComponent") // a bundle inside this class
  private record Levels(int[] levelOf, int count) {
    double[] sums(double[] w) {
      double[] sums = new double[count];
      for (int i = 0; i < w.length; i++) {
        sums[levelOf[i]] += w[i];
      }
      return sums;
    }
  }

  /**
   * Tests partners.
   *
   * @param fit a fit by REML with both factors and no fixed columns
   * @param first name of the factor of the units
   * @param second name of the factor of their partners
   * @param partnerOf for each level of the first factor its partner's level of the second, or -1
   * @param seed of the resampling
   * @return empty where the design cannot tell such a covariance from the components
   */
  public static Optional<PartnerAssociation> of(
      ComponentsFit fit, String first, String second, int[] partnerOf, long seed) {
    Observations data = fit.observations();
    int n = data.size();
    List<Levels> components = new ArrayList<>();
    for (RandomFactor factor : data.factors()) {
      components.add(new Levels(factor.levelOf(), factor.levelCount()));
    }
    int[] own = new int[n];
    for (int i = 0; i < n; i++) {
      own[i] = i;
    }
    components.add(new Levels(own, n));
    return new Score(
            data.values(),
            fit.variances(),
            components,
            fit.index(first),
            fit.index(second),
            partnerOf.clone())
        .test(seed);
  }

  /** The score at a fit. */
  private static final class Score {
    private final int n;
    private final double[] y;
    private final double[] theta;
    private final List<Levels> components;
    private final int first;
    private final int second;
    private final int[] partnerOf;

    Score(
        double[] y,
        double[] variances,
        List<Levels> components,
        int first,
        int second,
        int[] partnerOf) {
      this.n = y.length;
      this.y = y;
      this.theta = variances.clone();
      this.components = components;
      this.first = first;
      this.second = second;
      this.partnerOf = partnerOf;
      int residual = theta.length - 1;
      double total = Arrays.stream(theta).sum();
      theta[residual] = Math.max(theta[residual], SMALLEST_RESIDUAL * total);
    }

    /** Entry of V_k; the last index is A. */
    private double entry(int k, int i, int j) {
      if (k < components.size()) {
        int[] level = components.get(k).levelOf();
        return level[i] == level[j] ? 1 : 0;
      }
      int[] a = components.get(first).levelOf();
      int[] b = components.get(second).levelOf();
      return (partnerOf[a[i]] == b[j] ? 1 : 0) + (partnerOf[a[j]] == b[i] ? 1 : 0);
    }

    private double quadratic(int k, double[] w) {
      if (k < components.size()) {
        double[] sums = components.get(k).sums(w);
        return Dense.dot(sums, sums);
      }
      double[] a = components.get(first).sums(w);
      double[] b = components.get(second).sums(w);
      double sum = 0;
      for (int u = 0; u < a.length; u++) {
        sum += partnerOf[u] >= 0 ? 2 * a[u] * b[partnerOf[u]] : 0;
      }
      return sum;
    }

    Optional<PartnerAssociation> test(long seed) {
      double[] factor = new double[n * n];
      for (int i = 0; i < n; i++) {
        for (int j = 0; j < n; j++) {
          for (int k = 0; k < theta.length; k++) {
            factor[i * n + j] += theta[k] * entry(k, i, j);
          }
        }
      }
      if (!Dense.cholesky(factor, n)) {
        return Optional.empty();
      }
      double[] inverse = Dense.inverse(factor, n);
      double[] ones = new double[n];
      Arrays.fill(ones, 1);
      double[] h = times(inverse, ones);
      double total = Dense.dot(h, ones);
      double[] p = inverse.clone();
      for (int i = 0; i < n; i++) {
        Dense.addScaled(p, i * n, -h[i] / total, h, 0, n);
      }
      double[][] information = information(p);
      double[] traces = traces(p);
      int a = components.size();
      int[] free = free();
      Optional<double[]> nuisance = regression(information, free, a);
      if (nuisance.isEmpty()) {
        return Optional.empty();
      }
      double left = information[a][a];
      for (int f = 0; f < free.length; f++) {
        left -= nuisance.get()[f] * information[a][free[f]];
      }
      if (!(left > 1e-8 * information[a][a])) {
        return Optional.empty();
      }
      double observed = efficient(times(p, y), traces, free, nuisance.get());
      double mean = Dense.dot(h, y) / total;
      double[] white = new double[n];
      for (int i = 0; i < n; i++) {
        white[i] = y[i] - mean;
      }
      Dense.solveLower(factor, n, white);
      SplittableRandom random = new SplittableRandom(seed);
      int as = 1;
      for (int r = 0; r < RESAMPLES; r++) {
        shuffle(white, random);
        double[] w = times(p, coloured(factor, white));
        as += Math.abs(efficient(w, traces, free, nuisance.get())) >= Math.abs(observed) ? 1 : 0;
      }
      int partners = (int) Arrays.stream(partnerOf).filter(u -> u >= 0).count();
      return Optional.of(
          new PartnerAssociation(
              observed / left,
              correlation(information, times(p, y), traces),
              as / (RESAMPLES + 1.0),
              partners));
    }

    /** Components that are not at zero. */
    private int[] free() {
      double total = Arrays.stream(theta).sum();
      return java.util.stream.IntStream.range(0, theta.length)
          .filter(k -> theta[k] > SMALLEST_RESIDUAL * total)
          .toArray();
    }

    private static Optional<double[]> regression(double[][] information, int[] free, int a) {
      double[][] own = new double[free.length][free.length];
      double[] cross = new double[free.length];
      for (int f = 0; f < free.length; f++) {
        cross[f] = information[free[f]][a];
        for (int g = 0; g < free.length; g++) {
          own[f][g] = information[free[f]][free[g]];
        }
      }
      return SmallMatrix.solve(own, cross);
    }

    private double score(int k, double[] w, double[] traces) {
      return (quadratic(k, w) - traces[k]) / 2;
    }

    private double efficient(double[] w, double[] traces, int[] free, double[] nuisance) {
      double score = score(components.size(), w, traces);
      for (int f = 0; f < free.length; f++) {
        score -= nuisance[f] * score(free[f], w, traces);
      }
      return score;
    }

    /** One scoring step of all variances and the covariance together. */
    private double correlation(double[][] information, double[] w, double[] traces) {
      int a = components.size();
      double[] score = new double[a + 1];
      for (int k = 0; k <= a; k++) {
        score[k] = score(k, w, traces);
      }
      Optional<double[]> step = SmallMatrix.solve(information, score);
      if (step.isEmpty()) {
        return Math.signum(score[a]);
      }
      double covariance = step.get()[a];
      double product =
          Math.max(0, theta[first] + step.get()[first])
              * Math.max(0, theta[second] + step.get()[second]);
      return product > 0
          ? Math.max(-1, Math.min(1, covariance / Math.sqrt(product)))
          : Math.signum(covariance);
    }

    private double[] traces(double[] p) {
      double[] traces = new double[components.size() + 1];
      for (int k = 0; k < traces.length; k++) {
        for (int i = 0; i < n; i++) {
          for (int j = 0; j < n; j++) {
            traces[k] += p[i * n + j] * entry(k, i, j);
          }
        }
      }
      return traces;
    }

    /** tr(P V_k P V_l) / 2, with P V_k made by adding columns of P. */
    private double[][] information(double[] p) {
      int count = components.size() + 1;
      double[][] products = new double[count][];
      for (int k = 0; k < count; k++) {
        products[k] = product(p, k);
      }
      double[][] information = new double[count][count];
      for (int k = 0; k < count; k++) {
        for (int l = 0; l <= k; l++) {
          double sum = 0;
          for (int i = 0; i < n; i++) {
            for (int j = 0; j < n; j++) {
              sum += products[k][i * n + j] * products[l][j * n + i];
            }
          }
          information[k][l] = sum / 2;
          information[l][k] = sum / 2;
        }
      }
      return information;
    }

    private double[] product(double[] p, int k) {
      double[] product = new double[n * n];
      for (int m = 0; m < n; m++) {
        for (int j = 0; j < n; j++) {
          double entry = entry(k, m, j);
          for (int i = 0; i < n && entry != 0; i++) {
            product[i * n + j] += p[i * n + m] * entry;
          }
        }
      }
      return product;
    }

    private double[] times(double[] matrix, double[] v) {
      double[] result = new double[n];
      for (int i = 0; i < n; i++) {
        result[i] = Dense.dot(matrix, i * n, v, 0, n);
      }
      return result;
    }

    private double[] coloured(double[] factor, double[] white) {
      double[] result = new double[n];
      for (int i = 0; i < n; i++) {
        result[i] = Dense.dot(factor, i * n, white, 0, i + 1);
      }
      return result;
    }

    private static void shuffle(double[] values, SplittableRandom random) {
      for (int i = values.length - 1; i > 0; i--) {
        int j = random.nextInt(i + 1);
        double kept = values[i];
        values[i] = values[j];
        values[j] = kept;
      }
    }
  }
}
