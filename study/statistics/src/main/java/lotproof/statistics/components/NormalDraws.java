package lotproof.statistics.components;

import java.util.Arrays;
import org.apache.commons.rng.sampling.distribution.NormalizedGaussianSampler;
import org.apache.commons.rng.sampling.distribution.ZigguratSampler;
import org.apache.commons.rng.simple.RandomSource;

/**
 * Standard normal numbers from a seed, kept so that like models are drawn with the same ones: what
 * then differs between them is no chance. Threads may share them.
 */
public final class NormalDraws {
  private final NormalizedGaussianSampler sampler;
  private double[] drawn = new double[0];

  /** The same seed gives the same numbers. */
  public NormalDraws(long seed) {
    sampler = ZigguratSampler.NormalizedGaussian.of(RandomSource.XO_SHI_RO_256_PP.create(seed));
  }

  /** The first numbers, or more of them; not to be changed. */
  synchronized double[] first(int count) {
    if (drawn.length < count) {
      double[] more = Arrays.copyOf(drawn, count);
      for (int i = drawn.length; i < count; i++) {
        more[i] = sampler.sample();
      }
      drawn = more;
    }
    return drawn;
  }
}
