package lotproof.statistics.components;

import java.util.Arrays;
import java.util.BitSet;
import java.util.stream.IntStream;
import lotproof.statistics.Checks;
import lotproof.statistics.shape.AndersonDarling;
import org.apache.commons.rng.UniformRandomProvider;
import org.apache.commons.rng.sampling.distribution.NormalizedGaussianSampler;
import org.apache.commons.rng.sampling.distribution.ZigguratSampler;
import org.apache.commons.rng.simple.RandomSource;

/**
 * Whether some observations look as they would if all effects of a fit were normal.
 *
 * <p>The statistic is {@link AndersonDarling}'s, of the observations less the known influences.
 * Where no two of them share a level, its table holds. Units that share lots are no independent
 * sample: with half of the variance between five lots the table would find one normal study in six
 * not normal. Their probability value comes from draws of the very observations from the fitted
 * model, a parametric bootstrap with a fixed seed: (1 + draws as large) / (1 + draws), or, once 20
 * draws were as large, 20 / draws so far (Besag and Clifford 1991, from memory). Of more than 2000
 * observations that share levels 2000 are looked at, evenly taken.
 *
 * @param andersonDarling A² of the observations
 * @param pValue the chance of so large a value
 * @param drawn whether that comes from draws, because some observations share a level
 */
public record NormalEffects(double andersonDarling, double pValue, boolean drawn) {
  /** Fewer observations are not looked at. */
  public static final int FEWEST = 8;

  private static final int MOST = 2000;
  private static final int DRAWS = 1999;
  private static final int ENOUGH_AS_LARGE = 20;
  private static final long SEED = 20261201;

  /**
   * The test.
   *
   * @param observations indices of eight or more observations that are not all equal
   */
  public static NormalEffects test(ComponentsFit fit, int[] observations) {
    Checks.atLeast(observations.length, FEWEST, "observations");
    if (!shareLevels(fit, observations)) {
      AndersonDarling test = AndersonDarling.test(withoutInfluences(fit, observations));
      return new NormalEffects(test.statistic(), test.pValue(), false);
    }
    int[] some = evenly(observations);
    double statistic = AndersonDarling.test(withoutInfluences(fit, some)).statistic();
    UniformRandomProvider random = RandomSource.XO_RO_SHI_RO_128_PP.create(SEED);
    NormalizedGaussianSampler normal = ZigguratSampler.NormalizedGaussian.of(random);
    int asLarge = 0;
    for (int draw = 1; draw <= DRAWS; draw++) {
      asLarge += AndersonDarling.test(draw(fit, some, normal)).statistic() >= statistic ? 1 : 0;
      if (asLarge == ENOUGH_AS_LARGE) {
        return new NormalEffects(statistic, asLarge / (double) draw, true);
      }
    }
    return new NormalEffects(statistic, (1.0 + asLarge) / (1 + DRAWS), true);
  }

  private static boolean shareLevels(ComponentsFit fit, int[] observations) {
    for (RandomFactor factor : fit.observations().factors()) {
      BitSet met = new BitSet();
      for (int i : observations) {
        if (met.get(factor.level(i))) {
          return true;
        }
        met.set(factor.level(i));
      }
    }
    return false;
  }

  private static int[] evenly(int[] observations) {
    int n = observations.length;
    return n <= MOST
        ? observations
        : IntStream.range(0, MOST).map(i -> observations[(int) ((long) i * n / MOST)]).toArray();
  }

  /** The observations less their mean, drawn from the fitted model. */
  private static double[] draw(
      ComponentsFit fit, int[] observations, NormalizedGaussianSampler normal) {
    double[] variances = fit.variances();
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
    return values;
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
