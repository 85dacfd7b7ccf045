package lotproof.statistics.components;

import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.SplittableRandom;
import java.util.stream.IntStream;
import lotproof.statistics.linear.Dense;
import lotproof.statistics.linear.SmallMatrix;

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

  /**
   * Tests partners.
   *
   * @param fit a fit by REML with both factors and no fixed columns
   * @param first component of the units
   * @param second component of their partners
   * @param partnerOf for each level of the first factor its partner's level of the second, or -1
   * @param seed of the resampling
   * @return empty where the design cannot tell such a covariance from the components
   */
  public static Optional<PartnerAssociation> of(
      ComponentsFit fit, Component first, Component second, int[] partnerOf, long seed) {
    return new Score(fit, fit.index(first), fit.index(second), partnerOf.clone()).test(seed);
  }

  /** The score at a fit; the covariance of partners counts as one component more, the last. */
  private static final class Score {
    private final int n;
    private final double[] y;
    private final double[] theta;
    private final List<RandomFactor> factors;
    private final int first;
    private final int second;
    private final int[] partnerOf;

    Score(ComponentsFit fit, int first, int second, int[] partnerOf) {
      this.y = fit.observations().values();
      this.n = y.length;
      this.theta = fit.variances();
      this.factors = fit.observations().factors();
      this.first = first;
      this.second = second;
      this.partnerOf = partnerOf;
      int residual = theta.length - 1;
      double total = Arrays.stream(theta).sum();
      theta[residual] = Math.max(theta[residual], SMALLEST_RESIDUAL * total);
    }

    /** V_k v; A v for the last k. */
    private double[] times(int k, double[] v) {
      if (k == factors.size()) {
        return v.clone();
      }
      double[] result = new double[n];
      if (k < factors.size()) {
        double[] sums = sums(k, v);
        Arrays.setAll(result, i -> sums[factors.get(k).level(i)]);
        return result;
      }
      double[] ofFirst = sums(first, v);
      double[] ofSecond = sums(second, v);
      double[] ofUnits = new double[ofSecond.length];
      for (int u = 0; u < ofFirst.length; u++) {
        if (partnerOf[u] >= 0) {
          ofUnits[partnerOf[u]] += ofFirst[u];
        }
      }
      for (int i = 0; i < n; i++) {
        int partner = partnerOf[factors.get(first).level(i)];
        result[i] = ofUnits[factors.get(second).level(i)] + (partner >= 0 ? ofSecond[partner] : 0);
      }
      return result;
    }

    private double[] sums(int k, double[] v) {
      double[] sums = new double[factors.get(k).levelCount()];
      for (int i = 0; i < n; i++) {
        sums[factors.get(k).level(i)] += v[i];
      }
      return sums;
    }

    Optional<PartnerAssociation> test(long seed) {
      double[] factor = new double[n * n];
      double[] column = new double[n];
      for (int i = 0; i < n; i++) {
        column[i] = 1;
        for (int k = 0; k < theta.length; k++) {
          Dense.addScaled(factor, i * n, theta[k], times(k, column), 0, n);
        }
        column[i] = 0;
      }
      if (!Dense.cholesky(factor, n)) {
        return Optional.empty();
      }
      double[] inverse = Dense.inverse(factor, n);
      double[] ones = new double[n];
      Arrays.fill(ones, 1);
      double[] h = product(inverse, ones);
      double total = Dense.dot(h, ones);
      double[] p = inverse.clone();
      for (int i = 0; i < n; i++) {
        Dense.addScaled(p, i * n, -h[i] / total, h, 0, n);
      }
      double[][] products = new double[theta.length + 1][n * n];
      double[] traces = new double[theta.length + 1];
      for (int k = 0; k < products.length; k++) {
        for (int i = 0; i < n; i++) {
          double[] row = times(k, Arrays.copyOfRange(p, i * n, (i + 1) * n));
          System.arraycopy(row, 0, products[k], i * n, n);
          traces[k] += row[i];
        }
      }
      double[][] information = information(products);
      int a = theta.length;
      double floor = SMALLEST_RESIDUAL * Arrays.stream(theta).sum();
      int[] free = IntStream.range(0, a).filter(k -> theta[k] > floor).toArray();
      Optional<double[]> solved = SmallMatrix.solve(information, information[a], free);
      if (solved.isEmpty()) {
        return Optional.empty();
      }
      double[] nuisance = solved.get();
      double left = information[a][a] - Dense.dot(nuisance, information[a]);
      if (!(left > 1e-8 * information[a][a])) {
        return Optional.empty();
      }
      double[] atFit = scores(product(p, y), traces);
      double observed = atFit[a] - Dense.dot(nuisance, atFit);
      double mean = Dense.dot(h, y) / total;
      double[] white = Arrays.stream(y).map(v -> v - mean).toArray();
      Dense.solveLower(factor, n, white);
      SplittableRandom random = new SplittableRandom(seed);
      int as = 1;
      for (int r = 0; r < RESAMPLES; r++) {
        shuffle(white, random);
        double[] scores = scores(product(p, coloured(factor, white)), traces);
        double resampled = scores[a] - Dense.dot(nuisance, scores);
        as += Math.abs(resampled) >= Math.abs(observed) ? 1 : 0;
      }
      int partners = (int) Arrays.stream(partnerOf).filter(u -> u >= 0).count();
      return Optional.of(
          new PartnerAssociation(
              observed / left, correlation(information, atFit), as / (RESAMPLES + 1.0), partners));
    }

    /** U of all components from w = P y. */
    private double[] scores(double[] w, double[] traces) {
      double[] scores = new double[traces.length];
      Arrays.setAll(scores, k -> (Dense.dot(w, times(k, w)) - traces[k]) / 2);
      return scores;
    }

    /** One scoring step of all variances and the covariance together. */
    private double correlation(double[][] information, double[] scores) {
      int a = theta.length;
      Optional<double[]> step = SmallMatrix.solve(information, scores);
      if (step.isEmpty()) {
        return Math.signum(scores[a]);
      }
      double covariance = step.get()[a];
      double product =
          Math.max(0, theta[first] + step.get()[first])
              * Math.max(0, theta[second] + step.get()[second]);
      return product > 0
          ? Math.max(-1, Math.min(1, covariance / Math.sqrt(product)))
          : Math.signum(covariance);
    }

    /** tr(P V_k P V_l) / 2. */
    private double[][] information(double[][] products) {
      double[][] information = new double[products.length][products.length];
      for (int k = 0; k < products.length; k++) {
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

    private double[] product(double[] matrix, double[] v) {
      double[] result = new double[n];
      Arrays.setAll(result, i -> Dense.dot(matrix, i * n, v, 0, n));
      return result;
    }

    private double[] coloured(double[] factor, double[] white) {
      double[] result = new double[n];
      Arrays.setAll(result, i -> Dense.dot(factor, i * n, white, 0, i + 1));
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
