package lotproof.statistics.summary;

import java.util.Optional;
import lotproof.statistics.Checks;
import org.apache.commons.statistics.distribution.NormalDistribution;

/**
 * A location and a scale from values whose far ends are pulled in to 1.5 scales from the location.
 *
 * <p>All forms iterate until nothing changes in the last digits. They serve to look at data, never
 * to replace mean and standard deviation in a claim.
 *
 * @param location centre
 * @param scale spread, comparable to a standard deviation
 */
public record RobustEstimate(double location, double scale) {
  private static final double REACH = 1.5;
  private static final int MOST_STEPS = 10_000;

  /**
   * Huber's location with the scale held at the MAD.
   *
   * <p>Source: P. J. Huber, Annals of Mathematical Statistics 35 (1964) 73-101 (from memory).
   *
   * @return empty when more than half of the values are equal
   */
  public static Optional<RobustEstimate> huber(double[] values) {
    double[] y = Checks.sample(values, 3, "values");
    double scale = RobustScale.mad(y);
    if (!(scale > 0)) {
      return Optional.empty();
    }
    double location = Summary.median(y);
    for (int i = 0; i < MOST_STEPS; i++) {
      double next = Summary.mean(pulledIn(y, location, REACH * scale));
      if (Math.abs(next - location) <= 1e-14 * scale) {
        break;
      }
      location = next;
    }
    return Optional.of(new RobustEstimate(location, scale));
  }

  /**
   * Huber's proposal 2: location and scale together, the scale freed from the bias that pulling in
   * normal values gives it.
   *
   * <p>Source: as {@link #huber}.
   *
   * @return empty when more than half of the values are equal
   */
  public static Optional<RobustEstimate> huberProposal2(double[] values) {
    NormalDistribution normal = NormalDistribution.of(0, 1);
    double inside = 1 - 2 * normal.survivalProbability(REACH);
    double expected = inside + REACH * REACH * (1 - inside) - 2 * REACH * normal.density(REACH);
    double[] y = Checks.sample(values, 3, "values");
    return iterate(y, RobustScale.mad(y), 1 / Math.sqrt(expected));
  }

  /**
   * Algorithm A of proficiency tests: start at median and 1.483 MAD, pull in to 1.5 s, s = 1.134
   * times the standard deviation of what results.
   *
   * <p>Source: ISO 13528, Annex C (from memory; the rounded constants are the standard's).
   *
   * @return empty when more than half of the values are equal
   */
  public static Optional<RobustEstimate> algorithmA(double[] values) {
    double[] y = Checks.sample(values, 3, "values");
    return iterate(y, 1.483 * RobustScale.rawMad(y), 1.134);
  }

  private static Optional<RobustEstimate> iterate(double[] y, double start, double factor) {
    double location = Summary.median(y);
    double scale = start;
    for (int i = 0; i < MOST_STEPS && scale > 0; i++) {
      double[] pulled = pulledIn(y, location, REACH * scale);
      double nextLocation = Summary.mean(pulled);
      double nextScale = factor * Summary.sd(pulled);
      double change = Math.abs(nextLocation - location) + Math.abs(nextScale - scale);
      location = nextLocation;
      scale = nextScale;
      if (change <= 1e-14 * scale) {
        break;
      }
    }
    return scale > 0 ? Optional.of(new RobustEstimate(location, scale)) : Optional.empty();
  }

  private static double[] pulledIn(double[] values, double centre, double reach) {
    double[] pulled = new double[values.length];
    for (int i = 0; i < values.length; i++) {
      pulled[i] = Math.max(centre - reach, Math.min(centre + reach, values[i]));
    }
    return pulled;
  }
}
