package lotproof.statistics.gauge;

import lotproof.statistics.Checks;
import lotproof.statistics.summary.Summary;

/**
 * Two ways of measuring the same items, item by item: the mean of their differences and the limits
 * that most single differences keep, mean -+ 2 standard deviations.
 *
 * <p>The limits describe the sample; they are no tolerance limits, for which the factors of {@link
 * lotproof.statistics.tolerance.NormalTolerance} stand.
 *
 * <p>Source: J. M. Bland and D. G. Altman, The Lancet 327 (1986) 307-310.
 *
 * @param items number of items
 * @param meanDifference first less second
 * @param sd of the differences
 */
public record Agreement(int items, double meanDifference, double sd) {

  /** Two readings of three or more items, in the same order. */
  public static Agreement of(double[] first, double[] second) {
    double[] a = Checks.sample(first, 3, "first");
    double[] b = Checks.sample(second, 3, "second");
    if (a.length != b.length) {
      throw new IllegalArgumentException(
          "both must have the same items, had " + a.length + " and " + b.length);
    }
    double[] differences = new double[a.length];
    for (int i = 0; i < a.length; i++) {
      differences[i] = a[i] - b[i];
    }
    return new Agreement(a.length, Summary.mean(differences), Summary.sd(differences));
  }

  /** Lower end of what most differences keep. */
  public double lower() {
    return meanDifference - 2 * sd;
  }

  /** Upper end of what most differences keep. */
  public double upper() {
    return meanDifference + 2 * sd;
  }

  /**
   * Standard deviation of one reading where the two are repeats of one way of measuring, sqrt(sum
   * d² / 2n): the mean difference is no fault then, but chance.
   */
  public double withinItemSd() {
    double sumOfSquares = (items - 1) * sd * sd + items * meanDifference * meanDifference;
    return Math.sqrt(sumOfSquares / (2.0 * items));
  }
}
