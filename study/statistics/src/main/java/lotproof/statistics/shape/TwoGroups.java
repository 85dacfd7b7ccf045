package lotproof.statistics.shape;

import java.util.Arrays;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.ConcurrentHashMap;
import lotproof.statistics.Checks;
import org.apache.commons.rng.UniformRandomProvider;
import org.apache.commons.rng.sampling.distribution.ZigguratSampler;
import org.apache.commons.rng.simple.RandomSource;

/**
 * A warning that a sample may hold two kinds of unit.
 *
 * <p>The ordered values are cut in two where the sum of squares between the parts takes the largest
 * share of the whole, each part holding at least a tenth of the values (and two). For one normal
 * population that share is about 2/pi = 0.64, for a flat one 0.75, for two separate heaps more. The
 * probability value compares the share with normal samples of the same size, simulated with a fixed
 * seed; it is known to about 0.005.
 *
 * <p>A small value says "two groups, or a flat middle", and asks for a look at lots, suppliers and
 * dates. It removes nothing and splits nothing.
 *
 * <p>Source: L. Engelman and J. A. Hartigan, Journal of the American Statistical Association 64
 * (1969) 1647-1648 (from memory; with the limit of a tenth added here).
 *
 * @param share sum of squares between the parts over the whole
 * @param pValue chance of so large a share in one normal population
 */
public record TwoGroups(double share, double pValue) {
  private static final int SAMPLES = 4000;

  /** Enough for thousands of values, whose groups are plain or not there. */
  private static final int SAMPLES_OF_MANY = 1000;

  private static final int MANY = 500;
  private static final long SEED = 1969;

  /** By size of the sample; the checks of one study ask for the same few sizes again and again. */
  private static final Map<Integer, double[]> NULL_SHARES = new ConcurrentHashMap<>();

  /**
   * The split of ten or more values.
   *
   * @return empty when all values are equal
   */
  public static Optional<TwoGroups> of(double[] values) {
    double[] y = Checks.sample(values, 10, "values");
    Arrays.sort(y);
    if (y[0] == y[y.length - 1]) {
      return Optional.empty();
    }
    int at = bestCut(y);
    double share = share(y, at);
    double[] ofOneGroup = NULL_SHARES.computeIfAbsent(y.length, TwoGroups::sharesOfOneGroup);
    long larger = Arrays.stream(ofOneGroup).filter(simulated -> simulated >= share).count();
    double p = (larger + 1.0) / (ofOneGroup.length + 1.0);
    return Optional.of(new TwoGroups(share, p));
  }

  /** Shares in samples of one normal population. */
  private static double[] sharesOfOneGroup(int size) {
    UniformRandomProvider random = RandomSource.XO_SHI_RO_256_PP.create(SEED);
    ZigguratSampler.NormalizedGaussian normal = ZigguratSampler.NormalizedGaussian.of(random);
    double[] sample = new double[size];
    double[] shares = new double[size > MANY ? SAMPLES_OF_MANY : SAMPLES];
    for (int i = 0; i < shares.length; i++) {
      Arrays.setAll(sample, j -> normal.sample());
      Arrays.sort(sample);
      shares[i] = share(sample, bestCut(sample));
    }
    return shares;
  }

  private static int bestCut(double[] sorted) {
    int n = sorted.length;
    int smallest = Math.max(2, n / 10);
    double best = -1;
    int found = smallest;
    double centre = sorted[n / 2];
    double total = 0;
    for (double value : sorted) {
      total += value - centre;
    }
    double sum = 0;
    for (int i = 1; i < n; i++) {
      sum += sorted[i - 1] - centre;
      if (i >= smallest && n - i >= smallest) {
        double between = Math.pow(sum / i - (total - sum) / (n - i), 2) * i * (n - i);
        if (between > best) {
          best = between;
          found = i;
        }
      }
    }
    return found;
  }

  private static double share(double[] sorted, int cut) {
    int n = sorted.length;
    double low = mean(sorted, 0, cut);
    double high = mean(sorted, cut, n);
    double mean = (low * cut + high * (n - cut)) / n;
    double whole = 0;
    for (double value : sorted) {
      whole += (value - mean) * (value - mean);
    }
    return (high - low) * (high - low) * cut * (n - cut) / n / whole;
  }

  private static double mean(double[] values, int from, int to) {
    double sum = 0;
    for (int i = from; i < to; i++) {
      sum += values[i];
    }
    return sum / (to - from);
  }
}
