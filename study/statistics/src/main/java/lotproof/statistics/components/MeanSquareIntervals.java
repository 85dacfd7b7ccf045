package lotproof.statistics.components;

import java.util.Optional;
import lotproof.statistics.Interval;
import org.apache.commons.statistics.distribution.FDistribution;

/**
 * Closed-form intervals of a variance component that is a difference of two independent mean
 * squares, theta = (S1 - S2) / c, E(S1) = E(S2) + c theta.
 */
public final class MeanSquareIntervals {
  private MeanSquareIntervals() {}

  /**
   * A mean square.
   *
   * @param value at or above zero
   * @param degreesOfFreedom above zero
   */
  public record MeanSquare(double value, double degreesOfFreedom) {
    public MeanSquare {
      if (!(value >= 0 && Double.isFinite(value))) {
        throw new IllegalArgumentException(
            "value of a mean square must be finite and 0 or above, was " + value);
      }
      if (!(degreesOfFreedom > 0 && Double.isFinite(degreesOfFreedom))) {
        throw new IllegalArgumentException(
            "degreesOfFreedom must be finite and above 0, was " + degreesOfFreedom);
      }
    }
  }

  /**
   * Satterthwaite's interval: nu theta / chi2(1 -+ alpha/2; nu), nu = (S1 - S2)^2 / (S1^2/nu1 +
   * S2^2/nu2).
   *
   * <p>Simple but poor where nu is small; nothing is returned for an estimate at or below zero,
   * where it would degenerate to a point. Source: Satterthwaite (1946), Biometrics Bulletin 2 (from
   * memory).
   */
  public static Optional<Interval> satterthwaite(
      MeanSquare own, MeanSquare error, double multiplier, double confidence) {
    check(multiplier, confidence);
    double difference = own.value - error.value;
    if (!(difference > 0)) {
      return Optional.empty();
    }
    double nu =
        difference
            * difference
            / (own.value * own.value / own.degreesOfFreedom
                + error.value * error.value / error.degreesOfFreedom);
    double theta = difference / multiplier;
    return Optional.of(
        new Interval(
            nu * theta / Quantiles.chiSquared((1 + confidence) / 2, nu),
            nu * theta / Quantiles.chiSquared((1 - confidence) / 2, nu),
            confidence));
  }

  /**
   * Modified large sample interval, cut at zero.
   *
   * <p>With upper quantiles at alpha/2, G = 1 - nu/chi2(1 - alpha/2), H = nu/chi2(alpha/2) - 1, F_u
   * and F_l the quantiles of F(nu1, nu2): V_L = G1^2 S1^2 + H2^2 S2^2 + G12 S1 S2, G12 = [(F_u -
   * 1)^2 - G1^2 F_u^2 - H2^2] / F_u; V_U = H1^2 S1^2 + G2^2 S2^2 + H12 S1 S2, H12 = [(1 - F_l)^2 -
   * H1^2 F_l^2 - G2^2] / F_l; ends (S1 - S2 - sqrt(V_L)) / c and (S1 - S2 + sqrt(V_U)) / c. Close
   * to its confidence for any degrees of freedom.
   *
   * <p>Source: Burdick and Graybill (1992), Confidence Intervals on Variance Components, section
   * 3.3 (from memory); Ting, Burdick, Graybill, Jeyaratnam and Lu (1990).
   */
  public static Interval modifiedLargeSample(
      MeanSquare own, MeanSquare error, double multiplier, double confidence) {
    check(multiplier, confidence);
    double upper = (1 + confidence) / 2;
    double lower = (1 - confidence) / 2;
    double nu1 = own.degreesOfFreedom;
    double nu2 = error.degreesOfFreedom;
    double g1 = 1 - nu1 / Quantiles.chiSquared(upper, nu1);
    double g2 = 1 - nu2 / Quantiles.chiSquared(upper, nu2);
    double h1 = nu1 / Quantiles.chiSquared(lower, nu1) - 1;
    double h2 = nu2 / Quantiles.chiSquared(lower, nu2) - 1;
    FDistribution ratio = FDistribution.of(nu1, nu2);
    double f1 = Quantiles.sharpened(ratio, upper);
    double f2 = Quantiles.sharpened(ratio, lower);
    double g12 = ((f1 - 1) * (f1 - 1) - g1 * g1 * f1 * f1 - h2 * h2) / f1;
    double h12 = ((1 - f2) * (1 - f2) - h1 * h1 * f2 * f2 - g2 * g2) / f2;
    double s1 = own.value;
    double s2 = error.value;
    double below = g1 * g1 * s1 * s1 + h2 * h2 * s2 * s2 + g12 * s1 * s2;
    double above = h1 * h1 * s1 * s1 + g2 * g2 * s2 * s2 + h12 * s1 * s2;
    double difference = s1 - s2;
    double low = (difference - Math.sqrt(Math.max(0, below))) / multiplier;
    double high = (difference + Math.sqrt(Math.max(0, above))) / multiplier;
    return new Interval(Math.max(0, low), Math.max(0, high), confidence);
  }

  private static void check(double multiplier, double confidence) {
    Checks.fraction(confidence, "confidence");
    if (!(multiplier > 0 && Double.isFinite(multiplier))) {
      throw new IllegalArgumentException(
          "multiplier must be finite and above 0, was " + multiplier);
    }
  }
}
