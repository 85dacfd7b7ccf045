package lotproof.statistics.components;

import java.util.Arrays;
import org.jspecify.annotations.Nullable;

/**
 * Chooses the way to compute: the equations of the effects where each row has variance of its own,
 * the full covariance matrix where it has next to none and the study is small enough.
 */
final class LikelihoodSurface {
  /** Below this share of the total, dividing by the variance of a row costs too many digits. */
  private static final double SMALLEST_ROW_SHARE = 1e-5;

  private static final int MOST_DENSE_ROWS = 1000;

  private final CellMeans data;
  private final MixedModelEquations equations;
  private @Nullable DenseLikelihood dense;
  private Likelihood last;
  private double[] lastPoint = new double[0];
  private double lastValue;
  private Likelihood.@Nullable Derivatives lastDerivatives;
  private int evaluations;

  LikelihoodSurface(CellMeans data) {
    this.data = data;
    this.equations = new MixedModelEquations(data);
    this.last = equations;
  }

  /** Evaluates at theta; {@link #last} then refers to it. */
  double logLikelihood(double[] theta) {
    if (Arrays.equals(theta, lastPoint)) {
      return lastValue;
    }
    lastDerivatives = null;
    lastPoint = theta.clone();
    lastValue = evaluate(theta);
    evaluations++;
    return lastValue;
  }

  /** Slopes at the last point. */
  Likelihood.Derivatives derivatives() {
    Likelihood.Derivatives known = lastDerivatives;
    if (known == null) {
      known = last.derivatives();
      lastDerivatives = known;
    }
    return known;
  }

  int evaluations() {
    return evaluations;
  }

  private double evaluate(double[] theta) {
    double ownVariance = theta[theta.length - 1];
    if (data.rowFactor >= 0) {
      ownVariance += theta[data.rowFactor];
    }
    boolean cancels =
        ownVariance / Arrays.stream(theta).sum() < SMALLEST_ROW_SHARE
            && data.rows <= MOST_DENSE_ROWS;
    last = cancels ? dense() : equations;
    return last.logLikelihood(theta);
  }

  private DenseLikelihood dense() {
    DenseLikelihood known = dense;
    if (known == null) {
      known = new DenseLikelihood(data);
      dense = known;
    }
    return known;
  }

  /** True where traces of products come from probes and are rounded by chance. */
  boolean probed() {
    return ProductTraces.probed(data);
  }

  Likelihood last() {
    return last;
  }

  CellMeans data() {
    return data;
  }
}
