package lotproof.statistics.components;

/**
 * What is left of each observation after the mean and the predicted effects of its units.
 *
 * @param values conditional residuals, theta_e P y, one for each observation
 * @param standardized residual by its own standard deviation, sqrt(theta_e^2 diag P); 0 when the
 *     residual variance is zero
 */
@SuppressWarnings("ArrayRecordComponent") // copied in and out; compared by no one
public record Residuals(double[] values, double[] standardized) {
  public Residuals {
    values = values.clone();
    standardized = standardized.clone();
  }

  @Override
  public double[] values() {
    return values.clone();
  }

  @Override
  public double[] standardized() {
    return standardized.clone();
  }
}
