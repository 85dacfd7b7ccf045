package lotproof.statistics.gauge;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import lotproof.statistics.Checks;
import lotproof.statistics.summary.Summary;

/**
 * Repeatability and reproducibility from groups of readings of the same item: benches, sessions,
 * operators or laboratories, with unequal numbers of readings.
 *
 * <p>With n_i readings in p groups: repeatability variance = pooled within variance, sum (n_i - 1)
 * s_i² / sum (n_i - 1); between variance = (s_d² - s_r²) / n0 with s_d² = sum n_i (mean_i - mean)²
 * / (p - 1) and n0 = (N - sum n_i² / N) / (p - 1), shown raw where it is negative; reproducibility
 * variance = their sum. Mandel's h = (mean_i - mean of means) / sd of means looks at a group's
 * level, k = s_i sqrt(p) / sqrt(sum s_i²) at its scatter.
 *
 * <p>Source: ISO 5725-2:1994, 7.4 (from memory; the example of its Annex B is a check value).
 *
 * @param mean of all readings
 * @param repeatability within groups
 * @param between between groups, raw
 * @param effectiveGroupSize n0
 * @param levelStatistics Mandel's h of each group
 * @param scatterStatistics Mandel's k of each group; all 0 when no group scatters
 */
public record GroupPrecision(
    double mean,
    GaugeComponent repeatability,
    GaugeComponent between,
    double effectiveGroupSize,
    List<Double> levelStatistics,
    List<Double> scatterStatistics) {
  public GroupPrecision {
    levelStatistics = List.copyOf(levelStatistics);
    scatterStatistics = List.copyOf(scatterStatistics);
  }

  /**
   * The analysis of two or more groups.
   *
   * @param groups two or more readings each, group means not all equal
   */
  public static GroupPrecision of(List<double[]> groups) {
    Checks.atLeast(groups.size(), 2, "number of groups");
    int p = groups.size();
    double[] means = new double[p];
    double[] variances = new double[p];
    double total = 0;
    double squares = 0;
    double sum = 0;
    double within = 0;
    for (int i = 0; i < p; i++) {
      double[] group = Checks.sample(groups.get(i), 2, "group " + (i + 1));
      means[i] = Summary.mean(group);
      variances[i] = Summary.variance(group);
      total += group.length;
      squares += (double) group.length * group.length;
      sum += group.length * means[i];
      within += (group.length - 1) * variances[i];
    }
    double mean = sum / total;
    double between = 0;
    for (int i = 0; i < p; i++) {
      between += groups.get(i).length * (means[i] - mean) * (means[i] - mean);
    }
    double repeatability = within / (total - p);
    double size = (total - squares / total) / (p - 1);
    double sdOfMeans = Summary.sd(means);
    if (!(sdOfMeans > 0)) {
      throw new IllegalArgumentException("groups must not all have the same mean");
    }
    double centre = Summary.mean(means);
    double scatter = Math.sqrt(Arrays.stream(variances).sum());
    List<Double> h = new ArrayList<>();
    List<Double> k = new ArrayList<>();
    for (int i = 0; i < p; i++) {
      h.add((means[i] - centre) / sdOfMeans);
      k.add(scatter > 0 ? Math.sqrt(variances[i] * p) / scatter : 0);
    }
    return new GroupPrecision(
        mean,
        new GaugeComponent(repeatability),
        new GaugeComponent((between / (p - 1) - repeatability) / size),
        size,
        h,
        k);
  }

  /** Standard deviation of one reading of one group, drawn anew. */
  public double reproducibilitySd() {
    return Math.sqrt(repeatability.variance() + between.variance());
  }
}
