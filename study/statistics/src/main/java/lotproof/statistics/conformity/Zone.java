package lotproof.statistics.conformity;

/**
 * A range of values, closed at both ends; an end may be infinite.
 *
 * @param lower lower end, or negative infinity
 * @param upper upper end above the lower one, or positive infinity
 */
public record Zone(double lower, double upper) {
  public Zone {
    if (!(lower < upper)) {
      throw new IllegalArgumentException(
          "lower must lie below upper, were " + lower + " and " + upper);
    }
    if (Double.isInfinite(lower) && Double.isInfinite(upper)) {
      throw new IllegalArgumentException("zone needs one finite end");
    }
  }

  /** Everything up to a limit. */
  public static Zone atMost(double upper) {
    return new Zone(Double.NEGATIVE_INFINITY, upper);
  }

  /** From -limit to +limit. */
  public static Zone symmetric(double limit) {
    return new Zone(-limit, limit);
  }

  /** Whether a value lies inside. */
  public boolean holds(double value) {
    return lower <= value && value <= upper;
  }
}
