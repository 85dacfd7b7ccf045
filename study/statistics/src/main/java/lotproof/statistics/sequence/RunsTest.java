package lotproof.statistics.sequence;

import java.util.Optional;
import lotproof.statistics.Checks;
import lotproof.statistics.summary.Summary;
import org.apache.commons.statistics.distribution.NormalDistribution;

/**
 * The runs test about the median: whether values above and below it alternate as chance would have
 * them.
 *
 * <p>With n1 values above, n2 below and R runs: Z = (R - 2 n1 n2/(n1 + n2) - 1) / sqrt(2 n1 n2 (2
 * n1 n2 - n1 - n2) / ((n1 + n2)² (n1 + n2 - 1))), close to normal for ten values and more on each
 * side. Few runs (Z far below zero) speak for drift, many for over-correction.
 *
 * <p>Values equal to the median are dropped; to count them on one side changes Z.
 *
 * <p>Source: NIST/SEMATECH e-Handbook, 1.3.5.13.
 *
 * @param statistic Z
 * @param pValue two-sided chance of so unusual a number of runs
 */
public record RunsTest(double statistic, double pValue) {

  /**
   * The test of two or more values in the order of time.
   *
   * @return empty when all values stand on one side
   */
  public static Optional<RunsTest> aboutMedian(double[] values) {
    double[] y = Checks.sample(values, 2, "values");
    double median = Summary.median(y);
    int runs = 0;
    int above = 0;
    int below = 0;
    Boolean last = null;
    for (double value : y) {
      if (value == median) {
        continue;
      }
      boolean high = value > median;
      if (last == null || last != high) {
        runs++;
      }
      if (high) {
        above++;
      } else {
        below++;
      }
      last = high;
    }
    if (above == 0 || below == 0 || above + below < 3) {
      return Optional.empty();
    }
    double product = 2.0 * above * below;
    double n = above + below;
    double expected = product / n + 1;
    double variance = product * (product - n) / (n * n * (n - 1));
    double z = (runs - expected) / Math.sqrt(variance);
    double p = 2 * NormalDistribution.of(0, 1).survivalProbability(Math.abs(z));
    return Optional.of(new RunsTest(z, p));
  }
}
