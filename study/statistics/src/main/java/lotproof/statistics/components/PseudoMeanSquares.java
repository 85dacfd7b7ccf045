package lotproof.statistics.components;

import java.util.Arrays;
import java.util.Collections;
import java.util.List;
import lotproof.statistics.ModifiedLargeSample;
import lotproof.statistics.linear.Dense;
import lotproof.statistics.linear.SmallMatrix;

/**
 * Independent mean squares that stand in for those of an analysis of variance where a study is not
 * balanced, from the inverse information of the fit.
 *
 * <p>Construction, C = I^-1 (all components, those at zero included), components ordered from the
 * finest, the residual: phi_a = theta_o(a) + sum over b before a of w_ab phi_b with w_ab = max(0,
 * -cov(theta_o(a), phi_b) / var(phi_b)), that is Gram-Schmidt in the metric C. phi = T theta. In a
 * balanced study the phi are the expected mean squares up to scale. Degrees of freedom nu_a =
 * max(1, 2 phiHat_a^2 / var(phi_a)), phiHat = T theta at the estimates.
 *
 * <p>This is a construction made for this purpose. For balanced studies it equals the textbook; for
 * others its evidence is simulation (docs/guarantees.md), not a theorem.
 */
final class PseudoMeanSquares {
  private static final double SMALLEST_PHI_SHARE = 0.02;

  /** Component of each mean square. */
  final int[] order;

  /** Rows of T, columns in the order of the fit's components. */
  final double[][] t;

  /** T theta_M, theta_M the unconstrained variances, at least 0.02 phiHat. */
  final double[] phi;

  final double[] nu;

  /** Margins of the mean squares by a positive and by a negative coefficient. */
  private final double[] above;

  private final double[] below;

  PseudoMeanSquares(ComponentsFit fit, double confidence) {
    List<Integer> finestFirst = fit.data().coarsestFirst();
    finestFirst.add(fit.data().factors());
    Collections.reverse(finestFirst);
    order = finestFirst.stream().mapToInt(k -> k).toArray();
    double[][] covariance =
        SmallMatrix.inverse(fit.scaledInformation())
            .orElseThrow(() -> new IllegalStateException("information is singular"));
    int n = order.length;
    t = new double[n][n];
    nu = new double[n];
    double[] variance = new double[n];
    double[] theta = fit.scaledVariances();
    for (int a = 0; a < n; a++) {
      t[a][order[a]] = 1;
      for (int b = 0; b < a; b++) {
        double shared = Dense.dot(covariance[order[a]], t[b]);
        Dense.addScaled(t[a], 0, Math.max(0, -shared / variance[b]), t[b], 0, n);
      }
      variance[a] = SmallMatrix.quadratic(covariance, t[a]);
      double estimate = Dense.dot(t[a], theta);
      nu[a] = Math.max(1, 2 * estimate * estimate / variance[a]);
    }
    phi = SmallMatrix.times(t, fit.unconstrainedVariances());
    double[] least = SmallMatrix.times(t, fit.variances());
    Arrays.setAll(phi, a -> Math.max(phi[a], SMALLEST_PHI_SHARE * least[a]));
    above = Arrays.stream(nu).map(df -> ModifiedLargeSample.above(df, confidence)).toArray();
    below = Arrays.stream(nu).map(df -> ModifiedLargeSample.below(df, confidence)).toArray();
  }

  /** Margin of a mean square relative to it, H where it counts with a positive sign, else G. */
  double margin(int a, boolean positive) {
    return positive ? above[a] : below[a];
  }

  /** Coefficients a with weights' theta = a' phi, that is a = T'^-1 weights. */
  double[] coefficients(double[] weights) {
    int n = nu.length;
    double[] left = weights.clone();
    double[] result = new double[n];
    // each row of T adds one component that no earlier row has: peel from the coarsest
    for (int a = n - 1; a >= 0; a--) {
      result[a] = left[order[a]];
      Dense.addScaled(left, 0, -result[a], t[a], 0, n);
    }
    return result;
  }
}
