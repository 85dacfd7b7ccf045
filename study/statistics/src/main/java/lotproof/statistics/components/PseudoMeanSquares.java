package lotproof.statistics.components;

import java.util.ArrayList;
import java.util.List;

/**
 * Independent mean squares that stand in for those of an analysis of variance where a study is not
 * balanced, from the inverse information of the fit.
 *
 * <p>Construction, C = I^-1 (all components, those at zero included), components ordered from the
 * finest: phi_a = theta_o(a) + sum over b before a of w_ab phi_b with w_ab = max(0,
 * -cov(theta_o(a), phi_b) / var(phi_b)), that is Gram-Schmidt in the metric C. phi = T theta. In a
 * balanced study the phi are the expected mean squares up to scale. Degrees of freedom nu_a =
 * max(1, 2 phiHat_a^2 / var(phi_a)).
 *
 * <p>This is a construction made for this purpose. For balanced studies it equals the textbook; for
 * others its evidence is simulation (docs/guarantees.md), not a theorem.
 *
 * @param order component names, finest first
 * @param t rows of T, columns in the order of the fit's components
 * @param phi T theta_M, theta_M the unconstrained variances, at least 0.02 phiHat with phiHat = T
 *     theta
 * @param nu degrees of freedom
 */
@SuppressWarnings("ArrayRecordComponent") // copied in and out; compared by no one
public record PseudoMeanSquares(List<String> order, double[][] t, double[] phi, double[] nu) {
  private static final double SMALLEST_PHI_SHARE = 0.02;

  public PseudoMeanSquares {
    order = List.copyOf(order);
    t = copy(t);
    phi = phi.clone();
    nu = nu.clone();
  }

  /**
   * Computes the pseudo mean squares of a fit.
   *
   * @param finestFirst component names from the finest, as residual, pair, board, cell, board lot,
   *     cell lot; names that the fit does not have are passed over, all it has must be there
   */
  public static PseudoMeanSquares of(ComponentsFit fit, List<String> finestFirst) {
    List<String> names = fit.componentNames();
    List<String> order = new ArrayList<>();
    for (String name : finestFirst) {
      if (names.contains(name)) {
        order.add(name);
      }
    }
    if (order.size() != names.size() || !order.containsAll(names)) {
      throw new IllegalArgumentException(
          "finestFirst must name each of " + names + " once, was " + finestFirst);
    }
    double[] theta = fit.scaledVariances();
    double[] moved = fit.scaledUnconstrained();
    double[][] covariance =
        SmallMatrix.inverse(fit.scaledInformation())
            .orElseThrow(() -> new IllegalStateException("information is singular"));
    int n = theta.length;
    double[][] t = new double[n][n];
    double[] variance = new double[n];
    for (int a = 0; a < n; a++) {
      int component = names.indexOf(order.get(a));
      t[a][component] = 1;
      for (int b = 0; b < a; b++) {
        double shared = Dense.dot(covariance[component], t[b]);
        double weight = Math.max(0, -shared / variance[b]);
        Dense.addScaled(t[a], 0, weight, t[b], 0, n);
      }
      variance[a] = SmallMatrix.quadratic(covariance, t[a]);
    }
    double[] phiHat = SmallMatrix.times(t, theta);
    double[] phi = SmallMatrix.times(t, moved);
    double[] nu = new double[n];
    for (int a = 0; a < n; a++) {
      nu[a] = Math.max(1, 2 * phiHat[a] * phiHat[a] / variance[a]);
      phi[a] = Math.max(phi[a], SMALLEST_PHI_SHARE * phiHat[a]);
    }
    double unit = fit.data().scale * fit.data().scale;
    return new PseudoMeanSquares(order, t, scaled(phi, unit), nu);
  }

  private static double[] scaled(double[] values, double unit) {
    double[] result = values.clone();
    for (int i = 0; i < result.length; i++) {
      result[i] *= unit;
    }
    return result;
  }

  private static double[][] copy(double[][] matrix) {
    double[][] result = new double[matrix.length][];
    for (int i = 0; i < result.length; i++) {
      result[i] = matrix[i].clone();
    }
    return result;
  }

  @Override
  public double[][] t() {
    return copy(t);
  }

  @Override
  public double[] phi() {
    return phi.clone();
  }

  @Override
  public double[] nu() {
    return nu.clone();
  }

  /** Coefficients a with weights' theta = a' phi, that is a = T'^-1 weights. */
  double[] coefficients(double[] weights) {
    int n = phi.length;
    double[] left = weights.clone();
    double[] result = new double[n];
    // each row of T adds one component that no earlier row has: peel from the coarsest
    for (int a = n - 1; a >= 0; a--) {
      int own = ownComponent(a);
      result[a] = left[own];
      Dense.addScaled(left, 0, -result[a], t[a], 0, n);
    }
    return result;
  }

  private int ownComponent(int a) {
    for (int c = 0; c < t.length; c++) {
      boolean earlier = false;
      for (int b = 0; b < a; b++) {
        earlier |= t[b][c] != 0;
      }
      if (!earlier && t[a][c] == 1) {
        return c;
      }
    }
    throw new IllegalStateException("T is not triangular in its order");
  }
}
