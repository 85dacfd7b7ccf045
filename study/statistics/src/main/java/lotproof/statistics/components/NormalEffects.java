package lotproof.statistics.components;

import java.util.Arrays;
import lotproof.statistics.Checks;
import lotproof.statistics.shape.AndersonDarling;
import org.apache.commons.rng.UniformRandomProvider;
import org.apache.commons.rng.sampling.distribution.NormalizedGaussianSampler;
import org.apache.commons.rng.sampling.distribution.ZigguratSampler;
import org.apache.commons.rng.simple.RandomSource;

/**
 * Whether some observations look as they would if all effects of a fit were normal.
 *
 * <p>The statistic is {@link AndersonDarling}'s, of the observations less the known influences. Its
 * probability value comes from draws of the very observations from the fitted model, because units
 * that share lots are no independent sample: with half of the variance between five lots the table
 * of the statistic would find one normal study in six not normal. A parametric bootstrap with a
 * fixed seed; (1 + draws as large) / (1 + draws).
 *
 * @param andersonDarling A² of the observations
 * @param pValue the chance of so large a value
 */
public record NormalEffects(double andersonDarling, double pValue) {
  private static final int DRAWS = 1999;
  private static final long SEED = 20261201;

  /**
   * The test.
   *
   * @param observations indices of eight or more observations that are not all equal
   */
  public static NormalEffects test(ComponentsFit fit, int[] observations) {
    Checks.atLeast(observations.length, 8, "observations");
    double statistic = AndersonDarling.test(withoutInfluences(fit, observations)).statistic();
    double[] variances = fit.variances();
    UniformRandomProvider random = RandomSource.XO_RO_SHI_RO_128_PP.create(SEED);
    NormalizedGaussianSampler normal = ZigguratSampler.NormalizedGaussian.of(random);
    int asLarge = 0;
    for (int draw = 0; draw < DRAWS; draw++) {
      double[] values = new double[observations.length];
      for (int k = 0; k < variances.length - 1; k++) {
        RandomFactor factor = fit.observations().factors().get(k);
        double[] effect = new double[factor.levelCount()];
        Arrays.setAll(effect, level -> normal.sample());
        for (int i = 0; i < values.length; i++) {
          values[i] += Math.sqrt(variances[k]) * effect[factor.level(observations[i])];
        }
      }
      double residual = Math.sqrt(variances[variances.length - 1]);
      for (int i = 0; i < values.length; i++) {
        values[i] += residual * normal.sample();
      }
      asLarge += AndersonDarling.test(values).statistic() >= statistic ? 1 : 0;
    }
    return new NormalEffects(statistic, (1.0 + asLarge) / (1 + DRAWS));
  }

  private static double[] withoutInfluences(ComponentsFit fit, int[] observations) {
    double[] values = fit.observations().values();
    double[] result = new double[observations.length];
    for (int i = 0; i < result.length; i++) {
      result[i] = values[observations[i]];
      for (int c = 0; c < fit.fixedEffects().size(); c++) {
        double x = fit.observations().fixedColumns().get(c).value(observations[i]);
        result[i] -= fit.fixedEffects().get(c).estimate() * x;
      }
    }
    return result;
  }
}
