package lotproof.statistics.components;

import java.util.Arrays;
import lotproof.statistics.DistributionQuantiles;
import lotproof.statistics.components.ComponentsFit.FixedEffect;
import lotproof.statistics.summary.Summary;

/**
 * The variance of the estimated effect of a fixed column, widened where the residuals contradict
 * the model. With the effect a'y, its variance under the model is a'Va; what the residuals e add:
 *
 * <ul>
 *   <li>memory: with lag-1 autocorrelation r of the residuals in the order of the observations,
 *       theta_e times the sum over i &ne; j of a_i a_j r^|i - j|, where r is above the normal
 *       quantile over sqrt(n)
 *   <li>slopes that differ between the levels of a factor: sum over the levels of (sum a_i e_i)^2,
 *       less what the model expects of it, where the ratio of the two is above the quantile of
 *       chi-square over its degrees of freedom
 * </ul>
 *
 * <p>The larger of the two counts. Assumes that observations stand in the order in which they were
 * made. Sources: G. E. P. Box, G. M. Jenkins, Time Series Analysis; K.-Y. Liang, S. L. Zeger,
 * Biometrika 73 (1986) 13-22, for sums over clusters (both from memory).
 *
 * @param variance of the effect, scaled
 * @param mostDegreesOfFreedom that the variance can have
 * @param doubt why it is wider than the model's
 */
record EffectVariance(double variance, double mostDegreesOfFreedom, EffectDoubt doubt) {
  /** Chance that any of the tests finds something where the model holds. */
  private static final double FALSE_ALARM = 0.05;

  private static final double MOST_MEMORY = 0.999;

  /** Fewer levels than this tell too little about differences between them. */
  private static final int LEAST_LEVELS = 5;

  /** Of one fixed column, counted from 0. */
  static EffectVariance of(ComponentsFit fit, int column) {
    CellMeans data = fit.data();
    Likelihood likelihood = fit.surface().last();
    double[][] covariance = likelihood.fixedCovariance();
    double[] weights = new double[data.rows];
    for (int b = 0; b < covariance.length; b++) {
      Dense.addScaled(
          weights, 0, covariance[column + 1][b], likelihood.whitenedFixed()[b], 0, data.rows);
    }
    for (int p = 0; p < weights.length; p++) {
      weights[p] /= data.readings[p];
    }
    double model = covariance[column + 1][column + 1];
    EffectVariance widest =
        new EffectVariance(
            model, data.observations.size() - (double) covariance.length, EffectDoubt.NONE);
    double residual = likelihood.point()[data.factors()];
    if (!(residual > 0)) {
      return widest;
    }
    long factors = Arrays.stream(data.levelCount).filter(levels -> levels >= LEAST_LEVELS).count();
    double level = FALSE_ALARM / (1 + factors);
    EffectVariance memory = withMemory(fit, likelihood, weights, widest, level);
    widest = memory.variance > widest.variance ? memory : widest;
    for (int k = 0; k < data.factors(); k++) {
      if (data.levelCount[k] >= LEAST_LEVELS) {
        EffectVariance units = byUnits(likelihood, k, weights, model, level);
        widest = units.variance > widest.variance ? units : widest;
      }
    }
    return widest;
  }

  /** The effect with the standard error of this variance; unchanged where nothing is in doubt. */
  FixedEffect applied(FixedEffect effect, double scale) {
    return doubt == EffectDoubt.NONE
        ? effect
        : new FixedEffect(effect.name(), effect.estimate(), scale * Math.sqrt(variance));
  }

  private static EffectVariance withMemory(
      ComponentsFit fit,
      Likelihood likelihood,
      double[] weights,
      EffectVariance model,
      double level) {
    CellMeans data = fit.data();
    double theta = likelihood.point()[data.factors()];
    double[] py = likelihood.projectedValues();
    double[] values = fit.observations().values();
    double[] residuals = new double[values.length];
    for (int i = 0; i < values.length; i++) {
      int p = data.rowOf[i];
      residuals[i] =
          (values[i] - data.shift) / data.scale - data.y[p] + theta * py[p] / data.readings[p];
    }
    int n = residuals.length;
    double r = Summary.autocorrelation(residuals, 1);
    if (!(r * Math.sqrt(n) > DistributionQuantiles.normalUpper(level))) {
      return model;
    }
    double memory = Math.min(MOST_MEMORY, r + (1 + 4 * r) / n);
    double before = 0;
    double products = 0;
    for (int i = 0; i < n; i++) {
      double own = weights[data.rowOf[i]];
      products += 2 * own * before;
      before = memory * (before + own);
    }
    double effective = n * (1 - memory) / (1 + memory);
    return new EffectVariance(
        model.variance + theta * products, Math.max(1, effective - 2), EffectDoubt.MEMORY);
  }

  private static EffectVariance byUnits(
      Likelihood likelihood, int k, double[] weights, double model, double level) {
    CellMeans data = likelihood.data;
    double theta = likelihood.point()[data.factors()];
    double[] py = likelihood.projectedValues();
    double[] sums = new double[data.levelCount[k]];
    double[] expected = new double[sums.length];
    for (int p = 0; p < data.rows; p++) {
      sums[data.level[k][p]] += theta * weights[p] * py[p];
    }
    for (int c = 0; c < sums.length; c++) {
      double[] own = new double[data.rows];
      for (int p = 0; p < own.length; p++) {
        own[p] = data.level[k][p] == c ? weights[p] : 0;
      }
      expected[c] = theta * theta * Dense.dot(own, likelihood.project(own));
    }
    double seen = Dense.dot(sums, sums);
    double byModel = Arrays.stream(expected).sum();
    double freedom = byModel * byModel / Dense.dot(expected, expected);
    double limit = DistributionQuantiles.chiSquareUpper(freedom, level) / freedom;
    if (!(seen > limit * byModel)) {
      return new EffectVariance(model, freedom, EffectDoubt.NONE);
    }
    double levels = sums.length;
    double excess = (seen - byModel) * levels / (levels - 1);
    return new EffectVariance(model + excess, Math.max(1, freedom - 1), EffectDoubt.UNITS);
  }
}
