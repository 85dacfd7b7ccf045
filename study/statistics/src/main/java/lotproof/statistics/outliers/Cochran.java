package lotproof.statistics.outliers;

import java.util.Optional;
import lotproof.statistics.Checks;
import lotproof.statistics.DistributionQuantiles;
import org.apache.commons.statistics.distribution.FDistribution;

/**
 * Cochran's test for one variance that is too large among several: a unit, lot or operator that
 * scatters more than the others.
 *
 * <p>C = largest variance / sum of the variances. Critical value 1 / (1 + (p - 1) / F) with F =
 * F(alpha / p; n - 1, (p - 1)(n - 1)), p variances of n values each. It looks at large variances
 * only; too small ones it does not see. Assumes normal values.
 *
 * <p>Of unequal sample sizes: with sums of squares Q on nu degrees of freedom, all together on N, a
 * share Q / sum of Q follows Beta(nu / 2, (N - nu) / 2), and the variance whose share has the
 * smallest chance is tested at alpha / p. With equal sizes this is the test above.
 *
 * <p>Sources: W. G. Cochran, Annals of Eugenics 11 (1941) 47-52 and ISO 5725-2:1994, 7.3.3 (both
 * from memory; critical values recomputed from F).
 *
 * @param index position of the variance that is largest for its size, from 0
 * @param statistic C; of unequal sizes its share of the sum of squares
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
   * @param values number of values behind each, 2 or more
   * @param significance alpha
   * @return empty when all variances are zero
   */
  public static Optional<Cochran> test(double[] variances, int[] values, double significance) {
    double[] v = Checks.sample(variances, 2, "variances");
    double squares = 0;
    double freedom = 0;
    for (int i = 0; i < v.length; i++) {
      Checks.notNegative(v[i], "variances[" + i + "]");
      Checks.atLeast(values[i], 2, "values[" + i + "]");
      squares += (values[i] - 1) * v[i];
      freedom += values[i] - 1;
    }
    if (!(squares > 0)) {
      return Optional.empty();
    }
    int least = 0;
    double chance = Double.POSITIVE_INFINITY;
    for (int i = 0; i < v.length; i++) {
      double df = values[i] - 1.0;
      double p = chance(df * v[i] / squares, df, freedom - df);
      // a share of all leaves several chances at 0
      if (p < chance || (p == chance && v[i] > v[least])) {
        least = i;
        chance = p;
      }
    }
    double df = values[least] - 1.0;
    double f = DistributionQuantiles.fisherUpper(df, freedom - df, significance / v.length);
    return Optional.of(
        new Cochran(
            least,
            df * v[least] / squares,
            1 / (1 + (freedom - df) / (df * f)),
            Math.min(1, v.length * chance)));
  }

  /** Chance of a share of the sum of squares as large, by the F of its variance to the others'. */
  private static double chance(double share, double df, double others) {
    if (share >= 1) {
      return 0;
    }
    return FDistribution.of(df, others).survivalProbability(share / df / ((1 - share) / others));
  }
}
