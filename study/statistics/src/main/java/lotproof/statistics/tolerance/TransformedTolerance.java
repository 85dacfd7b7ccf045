package lotproof.statistics.tolerance;

import java.util.OptionalDouble;
import lotproof.statistics.Checks;
import lotproof.statistics.summary.Summary;

/**
 * Tolerance limits of positive values that are normal on a transformed scale: the logarithm, or a
 * stated power.
 *
 * <p>z = (y^power - 1)/power, or ln y at power 0, which grows with y whatever the power. The exact
 * normal limits of z, mean +- k s, are carried back. As z grows with y, content and confidence are
 * those of the limits of z.
 *
 * <p><strong>Rule.</strong> The power must have been fixed before the data and for a reason outside
 * them, such as the logarithm of a gain. This class therefore takes it and never looks for it: with
 * a power fitted to the same values the limits keep less than the asked confidence, which
 * docs/guarantees.md shows. {@link lotproof.statistics.shape.BoxCox} says what the data make of a
 * power.
 *
 * <p>Edge cases: a lower limit of z beyond the transformed zero is the limit 0 of y; an upper limit
 * of z that no y reaches, possible at negative powers, is no limit at all.
 *
 * <p>Source: K. Krishnamoorthy and T. Mathew, Statistical Tolerance Regions, 2009, chapter 2, for
 * the logarithm (from memory).
 *
 * @param power 0 for the logarithm, 1 for none
 */
public record TransformedTolerance(double power) {
  public TransformedTolerance {
    Checks.finite(power, "power");
  }

  public static TransformedTolerance logarithm() {
    return new TransformedTolerance(0);
  }

  /**
   * Limits on both sides.
   *
   * @param lower 0 or above
   * @param upper empty where no finite limit holds
   */
  public record Limits(double lower, OptionalDouble upper) {}

  /** A limit that the content of the population stays above, with the confidence. */
  public double lower(double[] values, double content, double confidence) {
    double k = NormalTolerance.oneSidedFactor(values.length, content, confidence);
    return lowerAt(values, k);
  }

  /** A limit that the content of the population stays below; empty where no finite one holds. */
  public OptionalDouble upper(double[] values, double content, double confidence) {
    double k = NormalTolerance.oneSidedFactor(values.length, content, confidence);
    return upperAt(values, k);
  }

  /** Two limits between which the content of the population lies, with the confidence. */
  public Limits twoSided(double[] values, double content, double confidence) {
    double k = NormalTolerance.twoSidedFactor(values.length, content, confidence);
    return new Limits(lowerAt(values, k), upperAt(values, k));
  }

  private double lowerAt(double[] values, double factor) {
    double[] z = transformed(values);
    return back(Summary.mean(z) - factor * sd(z)).orElse(0);
  }

  private OptionalDouble upperAt(double[] values, double factor) {
    double[] z = transformed(values);
    return back(Summary.mean(z) + factor * sd(z));
  }

  private static double sd(double[] z) {
    return Math.sqrt(Summary.variance(z));
  }

  /** Values on the scale on which they are normal; {@code values} two or more, all above 0. */
  public double[] transformed(double[] values) {
    Checks.atLeast(values.length, 2, "number of values");
    double[] z = new double[values.length];
    for (int i = 0; i < z.length; i++) {
      double logarithm = Math.log(Checks.positive(values[i], "value"));
      // expm1 keeps the digits of small powers
      z[i] = power == 0 ? logarithm : Math.expm1(power * logarithm) / power;
    }
    return z;
  }

  /** The y of a z; empty where there is none. */
  private OptionalDouble back(double z) {
    if (power == 0) {
      return OptionalDouble.of(Math.exp(z));
    }
    double raised = power * z;
    return raised > -1
        ? OptionalDouble.of(Math.exp(Math.log1p(raised) / power))
        : OptionalDouble.empty();
  }
}
