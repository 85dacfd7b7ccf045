package lotproof.statistics.outliers;

import java.util.Arrays;
import java.util.Set;
import lotproof.statistics.Checks;
import org.apache.commons.statistics.distribution.HypergeometricDistribution;

/**
 * Whether values that were taken out are the farthest ones.
 *
 * <p>Of n values k were taken out; {@code farthest} of these are among the k farthest. Taken out at
 * random that number is hypergeometric (n, k, k), and {@code chance} is its upper tail. Of values
 * that are equally far at the edge, those left in count first, so ties never add to the number.
 *
 * <p>Source: the hypergeometric distribution; its use here is a construction of this program.
 *
 * @param count how many were taken out
 * @param total of how many
 */
public record TakenExtremes(int count, int total, int farthest, double chance) {
  /**
   * The comparison.
   *
   * @param distances how far each value lies from the middle
   * @param taken indices of those taken out; one or more
   */
  public static TakenExtremes of(double[] distances, Set<Integer> taken) {
    int n = distances.length;
    int k = taken.size();
    Checks.atLeast(k, 1, "values taken out");
    double[] ascending = distances.clone();
    Arrays.sort(ascending);
    double edge = ascending[n - k];
    int beyond = (int) Arrays.stream(distances).filter(d -> d > edge).count();
    int atEdgeLeftIn = 0;
    int takenBeyond = 0;
    for (int i = 0; i < n; i++) {
      atEdgeLeftIn += distances[i] == edge && !taken.contains(i) ? 1 : 0;
      takenBeyond += distances[i] > edge && taken.contains(i) ? 1 : 0;
    }
    int farthest = takenBeyond + Math.max(0, k - beyond - atEdgeLeftIn);
    double chance =
        farthest == 0
            ? 1
            : HypergeometricDistribution.of(n, k, k).survivalProbability(farthest - 1);
    return new TakenExtremes(k, n, farthest, chance);
  }
}
