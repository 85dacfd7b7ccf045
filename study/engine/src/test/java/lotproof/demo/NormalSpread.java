package lotproof.demo;

/**
 * How a trait is spread over lots and over the units of a lot: mean + lot part + unit part, the
 * parts normal and independent.
 *
 * @param mean mean over all lots
 * @param lotSd standard deviation of lot means, 0 or above
 * @param unitSd standard deviation of units within a lot, 0 or above
 */
public record NormalSpread(double mean, double lotSd, double unitSd) {
  public NormalSpread {
    if (!Double.isFinite(mean)) {
      throw new IllegalArgumentException("mean must be a finite number, was " + mean);
    }
    if (!(lotSd >= 0 && lotSd < Double.POSITIVE_INFINITY)) {
      throw new IllegalArgumentException("lot sd must be 0 or above and finite, was " + lotSd);
    }
    if (!(unitSd >= 0 && unitSd < Double.POSITIVE_INFINITY)) {
      throw new IllegalArgumentException("unit sd must be 0 or above and finite, was " + unitSd);
    }
  }
}
