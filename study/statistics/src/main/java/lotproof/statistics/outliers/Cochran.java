package lotproof.statistics.outliers;

import java.util.Optional;
import lotproof.statistics.Checks;
import lotproof.statistics.DistributionQuantiles;
import org.apache.commons.statistics.distribution.FDistribution;

/**
 * Cochran's test for one variance that is too large among several of equal sample size: a unit, lot
 * or operator that scatters more than the others.
 *
 * <p>C = largest variance / sum of the variances. Critical value 1 / (1 + (p - 1) / F) with F =
 * F(alpha / p; n - 1, (p - 1)(n - 1)), p variances of n values each. It looks at large variances
 * only; too small ones it does not see. Assumes normal values.
 *
 * <p>Sources: W. G. Cochran, Annals of Eugenics 11 (1941) 47-52 and ISO 5725-2:1994, 7.3.3 (both
 * from memory; critical values recomputed from F).
 *
 * @param index position of the largest variance, from 0
 * @param statistic C
 * @param criticalValue the value that C exceeds with at most the chance alpha
 * @param pValue upper bound of the chance of so large a C, at most 1
 */
public record Cochran(int index, double statistic, double criticalValue, double pValue) {

  /** Whether the largest variance is larger than chance explains. */
  public boolean extreme() {
    return statistic > criticalValue;
  }

  /**
   * The test.
   *
   * @param variances two or more variances, none negative
   * @param valuesEach number of values behind each variance, 2 or more
   * @param significance alpha
   * @return empty when all variances are zero
   */
  public static Optional<Cochran> test(double[] variances, int valuesEach, double significance) {
    double[] v = Checks.sample(variances, 2, "variances");
    double critical = criticalValue(v.length, valuesEach, significance);
    double sum = 0;
    int largest = 0;
    for (int i = 0; i < v.length; i++) {
      sum += Checks.notNegative(v[i], "variances[" + i + "]");
      if (v[i] > v[largest]) {
        largest = i;
      }
    }
    if (!(sum > 0)) {
      return Optional.empty();
    }
    double statistic = v[largest] / sum;
    return Optional.of(
        new Cochran(largest, statistic, critical, pValue(v.length, valuesEach, statistic)));
  }

  /** The critical value of p variances of n values each. */
  public static double criticalValue(int variances, int valuesEach, double significance) {
    Checks.atLeast(variances, 2, "variances");
    Checks.atLeast(valuesEach, 2, "valuesEach");
    Checks.fraction(significance, "significance");
    double others = variances - 1.0;
    double df = valuesEach - 1.0;
    double f = DistributionQuantiles.fisherUpper(df, others * df, significance / variances);
    return 1 / (1 + others / f);
  }

  private static double pValue(int variances, int valuesEach, double statistic) {
    if (statistic >= 1) {
      return 0;
    }
    double others = variances - 1.0;
    double df = valuesEach - 1.0;
    double f = others * statistic / (1 - statistic);
    return Math.min(1, variances * FDistribution.of(df, others * df).survivalProbability(f));
  }
}
