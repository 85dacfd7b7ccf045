package lotproof.statistics.homogeneity;

import java.util.List;
import java.util.Optional;
import lotproof.statistics.summary.Summary;
import org.apache.commons.statistics.distribution.FDistribution;

/**
 * The test of Levene for equal spread in k groups, about the medians in the form of Brown and
 * Forsythe.
 *
 * <p>W = the F statistic of a one-way analysis of |y - median of its group|, with k - 1 and N - k
 * degrees of freedom. It keeps its level for skewed and heavy-tailed values too.
 *
 * <p>Source: NIST/SEMATECH e-Handbook, 1.3.5.10.
 *
 * @param statistic W
 * @param numeratorDf k - 1
 * @param denominatorDf N - k
 * @param pValue chance of so large a W with equal spread
 */
public record BrownForsythe(double statistic, int numeratorDf, int denominatorDf, double pValue) {

  /**
   * The test about the medians.
   *
   * @return empty when the distances do not vary within any group
   */
  public static Optional<BrownForsythe> test(List<double[]> groups) {
    List<double[]> checked = Bartlett.checked(groups);
    int k = checked.size();
    int n = 0;
    double sum = 0;
    double[] means = new double[k];
    double within = 0;
    for (int g = 0; g < k; g++) {
      double[] distances = distances(checked.get(g));
      means[g] = Summary.mean(distances);
      within += Summary.variance(distances) * (distances.length - 1);
      sum += means[g] * distances.length;
      n += distances.length;
    }
    if (!(within > 0)) {
      return Optional.empty();
    }
    double between = 0;
    for (int g = 0; g < k; g++) {
      double d = means[g] - sum / n;
      between += checked.get(g).length * d * d;
    }
    double statistic = between / (k - 1) / (within / (n - k));
    double p = FDistribution.of(k - 1.0, n - k).survivalProbability(statistic);
    return Optional.of(new BrownForsythe(statistic, k - 1, n - k, p));
  }

  private static double[] distances(double[] values) {
    double middle = Summary.median(values);
    double[] distances = new double[values.length];
    for (int i = 0; i < values.length; i++) {
      distances[i] = Math.abs(values[i] - middle);
    }
    return distances;
  }
}
