package lotproof.claim.upkeep;

import lotproof.statistics.conformity.Conformity;
import lotproof.statistics.conformity.Zone;

/** The half width about zero that holds a content of a known normal population. */
final class HalfWidth {
  private HalfWidth() {}

  /**
   * The A with Phi((A - m)/s) - Phi((-A - m)/s) = content, by bisection to the last digits.
   *
   * @param mean m
   * @param sd s, 0 or above
   * @param content in 0..1
   */
  static double of(double mean, double sd, double content) {
    if (!(sd >= 0)) {
      throw new IllegalArgumentException("sd must be 0 or above, was " + sd);
    }
    if (!(content > 0 && content < 1)) {
      throw new IllegalArgumentException("content must lie in 0..1, was " + content);
    }
    if (sd == 0) {
      return Math.abs(mean);
    }
    double low = 0;
    double high = Math.abs(mean) + 40 * sd;
    for (int i = 0; i < 100 && high - low > 1e-15 * high; i++) {
      double middle = 0.5 * (low + high);
      if (Conformity.probability(mean, sd, Zone.symmetric(middle)) < content) {
        low = middle;
      } else {
        high = middle;
      }
    }
    return 0.5 * (low + high);
  }
}
