package lotproof.statistics.components;

import java.util.Arrays;
import java.util.Optional;
import java.util.stream.IntStream;
import lotproof.statistics.DistributionQuantiles;
import lotproof.statistics.components.ComponentsFit.FixedEffect;
import lotproof.statistics.components.FixedEffectIntervals.Doubt;
import lotproof.statistics.linear.Dense;
import lotproof.statistics.summary.Summary;

/**
 * The variance of the estimated effect of a fixed column, widened where the residuals contradict
 * the model. With the effect a'y, its variance under the model is a'Va; what the residuals e add:
 *
 * <ul>
 *   <li>memory: with lag-1 autocorrelation r of the residuals in the order of the observations,
 *       theta_e times the sum over i &ne; j of a_i a_j r^|i - j|, the largest over memories up to
 *       r, because a longer memory may tell less of a column that moves up and down
 *   <li>slopes that differ between the levels of a factor: sum over the levels of (sum a_i e_i)^2,
 *       less what the model expects of it
 * </ul>
 *
 * <p>A hint is enough to widen: sqrt(n) times the autocorrelation above the normal quantile, or the
 * ratio of that sum to what the model expects above the quantile of chi-square over its degrees of
 * freedom, at a chance of 0.3, because a test that finds nothing proves nothing. In doubt is what
 * is found at a chance of 0.05. r is the autocorrelation corrected for its bias in short series, (1
 * + 4 r) / n, plus half its standard error.
 *
 * <p>The larger of the two counts. Assumes that observations stand in the order in which they were
 * made. Sources: G. E. P. Box, G. M. Jenkins, Time Series Analysis; K.-Y. Liang, S. L. Zeger,
 * Biometrika 73 (1986) 13-22, for sums over clusters (both from memory).
 *
 * @param widening its square root over that of the variance under the model, 1 or more
 * @param seen what the residuals show of the variance, over that under the model; 0 without a hint
 * @param degreesOfFreedom of what they show
 * @param doubt what was found against the model
 */
record EffectVariance(double widening, double seen, double degreesOfFreedom, Doubt doubt) {
  /** Chance that any of the tests finds something where the model holds. */
  private static final double FALSE_ALARM = 0.05;

  /** Chance that any of them widens where the model holds. */
  private static final double HINT = 0.3;

  private static final double MOST_MEMORY = 0.999;

  /** Memories up to the one that was seen that are tried. */
  private static final int MEMORY_STEPS = 8;

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
    EffectVariance plain = new EffectVariance(1, 0, 1, Doubt.NONE);
    if (!(likelihood.point()[data.factors()] > 0)) {
      return plain;
    }
    int[] factors =
        IntStream.range(0, data.factors())
            .filter(k -> data.levelCount[k] >= LEAST_LEVELS)
            .toArray();
    int tests = 1 + factors.length;
    EffectVariance widest = withMemory(fit, likelihood, weights, model, tests).orElse(plain);
    for (int k : factors) {
      widest = widest.orWider(byUnits(likelihood, k, weights, model, tests));
    }
    return widest;
  }

  private EffectVariance orWider(Optional<EffectVariance> other) {
    if (other.isEmpty()) {
      return this;
    }
    boolean otherIsWider = other.get().widening > widening;
    EffectVariance wider = otherIsWider ? other.get() : this;
    EffectVariance narrower = otherIsWider ? this : other.get();
    Doubt either = wider.doubt == Doubt.NONE ? narrower.doubt : wider.doubt;
    return new EffectVariance(wider.widening, wider.seen, wider.degreesOfFreedom, either);
  }

  /** The effect with a standard error as much wider. */
  FixedEffect applied(FixedEffect effect) {
    return new FixedEffect(effect.name(), effect.estimate(), widening * effect.standardError());
  }

  /** Satterthwaite's degrees of freedom, at least 1: the model's variance and what was seen. */
  double degreesOfFreedom(double ofModel) {
    return Math.max(1, Math.pow(widening, 4) / (1 / ofModel + seen * seen / degreesOfFreedom));
  }

  private static Optional<EffectVariance> withMemory(
      ComponentsFit fit, Likelihood likelihood, double[] weights, double model, int tests) {
    CellMeans data = fit.data();
    double theta = likelihood.point()[data.factors()];
    double[] residuals = BestLinearPredictors.residuals(fit).values();
    int n = residuals.length;
    double r = Summary.autocorrelation(residuals, 1);
    double z = r * Math.sqrt(n);
    if (!(z > DistributionQuantiles.normalUpper(HINT / tests))) {
      return Optional.empty();
    }
    double bias = (1 + 4 * r) / n;
    double memory = Math.min(MOST_MEMORY, r + bias + Math.sqrt((1 - r * r) / n) / 2);
    double[] own = Arrays.stream(data.rowOf).mapToDouble(p -> weights[p]).toArray();
    double products =
        IntStream.rangeClosed(1, MEMORY_STEPS)
            .mapToDouble(step -> products(own, memory * step / MEMORY_STEPS))
            .max()
            .orElse(0);
    double effective = n * (1 - memory) / (1 + memory);
    boolean found = products > 0 && z > DistributionQuantiles.normalUpper(FALSE_ALARM / tests);
    return Optional.of(
        new EffectVariance(
            Math.sqrt(Math.max(1, 1 + theta * products / model)),
            theta * (products + Dense.dot(own, own)) / model,
            Math.max(1, effective - 2),
            found ? Doubt.MEMORY : Doubt.NONE));
  }

  /** Sum over i &ne; j of a_i a_j r^|i - j|. */
  private static double products(double[] a, double r) {
    double before = 0;
    double sum = 0;
    for (double own : a) {
      sum += 2 * own * before;
      before = r * (before + own);
    }
    return sum;
  }

  private static Optional<EffectVariance> byUnits(
      Likelihood likelihood, int k, double[] weights, double model, int tests) {
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
    double ratio = seen / byModel;
    if (!(ratio > limit(freedom, HINT / tests))) {
      return Optional.empty();
    }
    double levels = sums.length;
    double excess = (seen - byModel) * levels / (levels - 1);
    return Optional.of(
        new EffectVariance(
            Math.sqrt(Math.max(1, 1 + excess / model)),
            seen / model,
            Math.max(1, freedom - 1),
            ratio > limit(freedom, FALSE_ALARM / tests) ? Doubt.UNITS : Doubt.NONE));
  }

  private static double limit(double freedom, double level) {
    return DistributionQuantiles.chiSquareUpper(freedom, level) / freedom;
  }
}
