package lotproof.statistics.components;

import java.util.Arrays;

/** Where a climb ended. */
@SuppressWarnings("ArrayRecordComponent") // a bundle inside this package
record Maximum(
    double[] theta,
    double logLikelihood,
    Likelihood.Derivatives derivatives,
    int iterations,
    boolean converged,
    String reason) {
  /** Whether the climb was given up on its way. */
  boolean unfinished() {
    return reason.equals(VarianceMaximizer.LIMIT_REACHED);
  }

  /** True when the residual stands at its token share, next to zero. */
  boolean atToken() {
    double residual = theta[theta.length - 1];
    return residual > 0
        && residual <= 1.01 * VarianceMaximizer.TOKEN_RESIDUAL * Arrays.stream(theta).sum();
  }

  /**
   * By how much the likelihood grows each time the residual shrinks by a factor e at its token
   * share: half the number of contrasts that depend on the residual alone and came out as zero. 0
   * where the likelihood is bounded. A single such contrast, as a rotation of two passes has it,
   * can be zero by chance in rounded readings; the residual then counts as zero. More say that the
   * units reproduce the readings.
   */
  double unboundedness() {
    int e = theta.length - 1;
    double growth = atToken() ? -derivatives.score()[e] * theta[e] : 0;
    return growth > 0.1 ? growth : 0;
  }
}
