package lotproof.statistics.components;

import java.util.ArrayList;
import java.util.List;

/**
 * Predicted effects of the measured units and conditional residuals of the observations.
 *
 * <p>With P = V^-1 - V^-1 X (X'V^-1 X)^-1 X'V^-1: effect u_k = theta_k Z_k' P y with variance
 * theta_k^2 Z_k' P Z_k, residual e = theta_e P y with variance theta_e^2 P. A level without an
 * observation gets effect 0. Variances count as known.
 *
 * <p>Source: Henderson (1975), Biometrics 31; Robinson (1991), Statistical Science 6 (from memory).
 */
public final class BestLinearPredictors {
  private BestLinearPredictors() {}

  /** Effects of every level of every factor, in the order of the factors. */
  public static List<FactorEffects> predict(ComponentsFit fit) {
    CellMeans data = fit.data();
    Likelihood likelihood = fit.surface().last();
    double[] py = likelihood.projectedValues();
    double[] theta = fit.scaledVariances();
    List<FactorEffects> result = new ArrayList<>();
    for (int k = 0; k < data.factors(); k++) {
      double[] sums = likelihood.levelSums(k, py);
      double[] information = likelihood.levelDiagonal(k);
      double[] effects = new double[sums.length];
      double[] standardized = new double[sums.length];
      for (int i = 0; i < sums.length; i++) {
        effects[i] = data.scale * theta[k] * sums[i];
        boolean defined = theta[k] > 0 && information[i] > 0;
        standardized[i] = defined ? sums[i] / Math.sqrt(information[i]) : 0;
      }
      Component component = data.observations.factors().get(k).component();
      result.add(new FactorEffects(component, effects, standardized));
    }
    return List.copyOf(result);
  }

  /** Conditional residuals in the order of the observations. */
  public static Residuals residuals(ComponentsFit fit) {
    CellMeans data = fit.data();
    Likelihood likelihood = fit.surface().last();
    double[] py = likelihood.projectedValues();
    double[] theta = fit.scaledVariances();
    double residual = theta[theta.length - 1];
    int n = data.observations.size();
    double[] values = new double[n];
    double[] standardized = new double[n];
    if (residual > 0) {
      double[] diagonal = likelihood.rowDiagonal();
      for (int i = 0; i < n; i++) {
        int p = data.rowOf[i];
        double r = data.readings[p];
        double left = data.scaledValue(i) - data.y[p] + residual * py[p] / r;
        // differences within a row have variance theta_e (1 - 1/r), and are apart from its mean
        double variance = residual * (1 - 1 / r) + residual * residual * diagonal[p] / (r * r);
        values[i] = data.scale * left;
        standardized[i] = variance > 0 ? left / Math.sqrt(variance) : 0;
      }
    }
    return new Residuals(values, standardized);
  }

  /**
   * Predicted effects of the levels of one factor, in the order of its levels.
   *
   * @param component of the factor
   * @param effects best linear unbiased predictions, theta Z'P y, shrunk toward zero
   * @param standardized effect / sqrt(theta^2 diag(Z'PZ)), near normal(0, 1); 0 when theta = 0
   */
  @SuppressWarnings("ArrayRecordComponent") // a result, compared by no one
  public record FactorEffects(Component component, double[] effects, double[] standardized) {}

  /**
   * What is left of each observation after the mean and the predicted effects of its units.
   *
   * @param values conditional residuals, theta_e P y, one for each observation
   * @param standardized residual by its own standard deviation, sqrt(theta_e^2 diag P); 0 when the
   *     residual variance is zero
   */
  @SuppressWarnings("ArrayRecordComponent") // a result, compared by no one
  public record Residuals(double[] values, double[] standardized) {}
}
