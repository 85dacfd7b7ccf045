package lotproof.statistics.outliers;

import java.util.Arrays;
import java.util.Comparator;
import java.util.stream.IntStream;
import lotproof.statistics.Checks;
import lotproof.statistics.summary.Summary;
import org.apache.commons.rng.UniformRandomProvider;
import org.apache.commons.rng.sampling.distribution.ZigguratSampler;
import org.apache.commons.rng.simple.RandomSource;

/**
 * The test of Tietjen and Moore for exactly k extreme values on either side.
 *
 * <p>E = (sum of squares without the k values farthest from the mean) / (sum of squares of all),
 * both about their own means. Small E speaks for k extreme values. The critical value has no closed
 * form and is simulated from normal samples, so it is known to about 0.005; its seed is an argument
 * so that it can be repeated.
 *
 * <p>Source: NIST/SEMATECH e-Handbook, 1.3.5.17.2.
 */
public final class TietjenMoore {
  private TietjenMoore() {}

  /** The statistic E for k of the values, which are not all equal. */
  public static double statistic(double[] values, int k) {
    double[] y = Checks.sample(values, 4, "values");
    checkCount(y.length, k);
    double all = Summary.variance(y) * (y.length - 1);
    if (!(all > 0)) {
      throw new IllegalArgumentException("values must not all be equal");
    }
    double mean = Summary.mean(y);
    double[] kept =
        IntStream.range(0, y.length)
            .boxed()
            .sorted(Comparator.comparingDouble(i -> Math.abs(y[i] - mean)))
            .limit(y.length - k)
            .mapToDouble(i -> y[i])
            .toArray();
    return Summary.variance(kept) * (kept.length - 1) / all;
  }

  /**
   * The simulated value below which E falls with the chance alpha for normal samples.
   *
   * @param n sample size
   * @param k number of extreme values
   * @param significance alpha
   * @param samples number of simulated samples, 1000 or more
   * @param seed of the generator
   */
  public static double criticalValue(int n, int k, double significance, int samples, long seed) {
    checkCount(n, k);
    Checks.fraction(significance, "significance");
    Checks.atLeast(samples, 1000, "samples");
    UniformRandomProvider random = RandomSource.XO_SHI_RO_256_PP.create(seed);
    ZigguratSampler.NormalizedGaussian normal = ZigguratSampler.NormalizedGaussian.of(random);
    double[] statistics = new double[samples];
    double[] sample = new double[n];
    for (int i = 0; i < samples; i++) {
      Arrays.setAll(sample, j -> normal.sample());
      statistics[i] = statistic(sample, k);
    }
    Arrays.sort(statistics);
    return statistics[(int) Math.floor(significance * samples)];
  }

  private static void checkCount(int n, int k) {
    if (k < 1 || k > n - 3) {
      throw new IllegalArgumentException("k must lie in 1.." + (n - 3) + ", was " + k);
    }
  }
}
