package lotproof.statistics.outliers;

import java.util.Optional;
import lotproof.statistics.Checks;
import lotproof.statistics.DistributionQuantiles;
import lotproof.statistics.summary.Summary;
import org.apache.commons.statistics.distribution.TDistribution;

/**
 * The test of Grubbs for one extreme value in an otherwise normal sample.
 *
 * <p>G = |y - mean| / s of the most extreme value, against (n - 1) / sqrt(n) sqrt(t² / (n - 2 +
 * t²)) with Student's t(alpha / 2n; n - 2), for an extreme on either side. Two extreme values on
 * one side hide each other from this test; {@link GeneralizedEsd} does not have that fault.
 *
 * <p>The test points at a value. It removes nothing: a unit without a cause stays in.
 *
 * <p>Sources: F. E. Grubbs, Technometrics 11 (1969) 1-21 (from memory); NIST/SEMATECH e-Handbook,
 * 1.3.5.17.1, which uses alpha / n, for a side fixed beforehand, there and alpha / 2n in its case
 * studies.
 *
 * @param index position of the most extreme value, from 0
 * @param statistic G
 * @param criticalValue the value that G exceeds with at most the chance alpha under normality
 * @param pValue upper bound of the chance of so large a G, at most 1
 */
public record Grubbs(int index, double statistic, double criticalValue, double pValue) {

  /** Whether the value is more extreme than chance explains. */
  public boolean extreme() {
    return statistic > criticalValue;
  }

  /**
   * The test of three or more values.
   *
   * @return empty when all values are equal, so that no scale exists
   */
  public static Optional<Grubbs> test(double[] values, double significance) {
    double[] y = Checks.sample(values, 3, "values");
    double tail = Checks.fraction(significance, "significance") / (2.0 * y.length);
    double sd = Summary.sd(y);
    if (!(sd > 0)) {
      return Optional.empty();
    }
    double mean = Summary.mean(y);
    int index = farthest(y, mean);
    double statistic = Math.abs(y[index] - mean) / sd;
    return Optional.of(
        new Grubbs(index, statistic, critical(y.length, tail), pValue(y.length, statistic)));
  }

  private static double pValue(int n, double statistic) {
    double share = statistic * statistic * n / ((n - 1.0) * (n - 1.0));
    if (share >= 1) {
      return 0;
    }
    double t = Math.sqrt((n - 2) * share / (1 - share));
    return Math.min(1, 2 * n * TDistribution.of(n - 2.0).survivalProbability(t));
  }

  /**
   * The critical value of the largest |y - mean| / s among n values whose chance of exceeding it is
   * bounded by n times the tail: (n - 1) / sqrt(n) sqrt(t² / (n - 2 + t²)), t = t(tail; n - 2).
   */
  static double critical(int n, double tail) {
    double t = DistributionQuantiles.studentUpper(n - 2.0, tail);
    return (n - 1) / Math.sqrt(n) * Math.sqrt(t * t / (n - 2 + t * t));
  }

  /** The position of the value that lies farthest from a centre; the first among equals. */
  static int farthest(double[] values, double centre) {
    int found = 0;
    double most = Double.NEGATIVE_INFINITY;
    for (int i = 0; i < values.length; i++) {
      double reach = Math.abs(values[i] - centre);
      if (reach > most) {
        most = reach;
        found = i;
      }
    }
    return found;
  }
}
