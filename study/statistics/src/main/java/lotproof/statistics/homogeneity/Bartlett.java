package lotproof.statistics.homogeneity;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import lotproof.statistics.Checks;
import lotproof.statistics.summary.Summary;
import org.apache.commons.statistics.distribution.ChiSquaredDistribution;

/**
 * Bartlett's test of equal variances in k groups of normal values.
 *
 * <p>T = ((N - k) ln sp² - sum (n_i - 1) ln s_i²) / (1 + (sum 1/(n_i - 1) - 1/(N - k)) / (3 (k -
 * 1))), chi-square with k - 1 degrees of freedom. The sharpest test for normal values, and misled
 * by any other shape; {@link BrownForsythe} is not.
 *
 * <p>Source: NIST/SEMATECH e-Handbook, 1.3.5.7.
 *
 * @param statistic T
 * @param degreesOfFreedom k - 1
 * @param pValue chance of so large a T with equal variances
 */
public record Bartlett(double statistic, int degreesOfFreedom, double pValue) {

  /**
   * The test of two or more groups of two or more values.
   *
   * @return empty when the values of some group are all equal
   */
  public static Optional<Bartlett> test(List<double[]> groups) {
    List<double[]> checked = checked(groups);
    int k = checked.size();
    double pooled = 0;
    double logs = 0;
    double inverse = 0;
    double df = 0;
    for (double[] group : checked) {
      double own = group.length - 1.0;
      double variance = Summary.variance(group);
      if (!(variance > 0)) {
        return Optional.empty();
      }
      pooled += own * variance;
      logs += own * Math.log(variance);
      inverse += 1 / own;
      df += own;
    }
    double correction = 1 + (inverse - 1 / df) / (3 * (k - 1.0));
    double statistic = Math.max(0, (df * Math.log(pooled / df) - logs) / correction);
    double p = ChiSquaredDistribution.of(k - 1.0).survivalProbability(statistic);
    return Optional.of(new Bartlett(statistic, k - 1, p));
  }

  static List<double[]> checked(List<double[]> groups) {
    Checks.atLeast(groups.size(), 2, "number of groups");
    List<double[]> copies = new ArrayList<>();
    for (int i = 0; i < groups.size(); i++) {
      copies.add(Checks.sample(groups.get(i), 2, "group " + (i + 1)));
    }
    return copies;
  }
}
