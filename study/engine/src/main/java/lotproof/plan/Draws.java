package lotproof.plan;

import java.util.List;
import org.apache.commons.rng.UniformRandomProvider;
import org.apache.commons.rng.sampling.ListSampler;
import org.apache.commons.rng.sampling.distribution.SharedStateContinuousSampler;
import org.apache.commons.rng.sampling.distribution.ZigguratSampler;
import org.apache.commons.rng.simple.RandomSource;

/**
 * Random draws that are the same for the same seed on every machine. Generator: xoroshiro128++
 * (Blackman and Vigna 2021) of Commons RNG.
 */
public final class Draws {
  private final UniformRandomProvider uniform;
  private final SharedStateContinuousSampler gaussian;

  /**
   * Draws from a generator.
   *
   * @param uniform where they come from
   */
  public Draws(UniformRandomProvider uniform) {
    this.uniform = uniform;
    this.gaussian = ZigguratSampler.NormalizedGaussian.of(uniform);
  }

  /**
   * One of very many streams, each with a start of its own that depends on nothing but seed and
   * index, so that work can be divided in any way.
   *
   * @param seed the seed of all
   * @param index which of them
   */
  public static Draws of(long seed, long index) {
    // golden-ratio increments through the mixing of SplitMix64 (Steele, Lea and Flood 2014)
    long z = seed + index * 0x9E3779B97F4A7C15L;
    z = (z ^ (z >>> 30)) * 0xBF58476D1CE4E5B9L;
    z = (z ^ (z >>> 27)) * 0x94D049BB133111EBL;
    return new Draws(RandomSource.XO_RO_SHI_RO_128_PP.create(z ^ (z >>> 31)));
  }

  /** A standard normal value. */
  public double gaussian() {
    return gaussian.sample();
  }

  /** A value spread evenly from low to high. */
  public double uniform(double low, double high) {
    return low + (high - low) * uniform.nextDouble();
  }

  /** A whole number from 0 to below the bound. */
  public int index(int bound) {
    return uniform.nextInt(bound);
  }

  /** Puts the list into a random order. */
  public void shuffle(List<?> list) {
    ListSampler.shuffle(uniform, list);
  }
}
