package lotproof.statistics.stability;

/**
 * Measures of how far averages of m successive readings differ from the next ones.
 *
 * <p>With x the running sum of the readings and D2 = x(i+2m) - 2 x(i+m) + x(i).
 */
public enum StabilityMeasure {
  /** sqrt(mean D2² / (2 m²)) over blocks that do not overlap. */
  ALLAN,
  /** The same over all i: the same expectation with a narrower interval. The usual choice. */
  OVERLAPPING_ALLAN;

  boolean overlapping() {
    return this == OVERLAPPING_ALLAN;
  }

  /** The largest number of readings averaged that n readings allow. */
  public int largestFactor(int n) {
    return n / 2;
  }
}
