package lotproof.statistics.stability;

/**
 * Measures of how far averages of m successive readings differ from the next ones.
 *
 * <p>With x the running sum of the readings and D2 = x(i+2m) - 2 x(i+m) + x(i), D3 = x(i+3m) - 3
 * x(i+2m) + 3 x(i+m) - x(i).
 */
public enum StabilityMeasure {
  /** sqrt(mean D2² / (2 m²)) over blocks that do not overlap. */
  ALLAN(2, false, false),
  /** The same over all i: the same expectation with a narrower interval. The usual choice. */
  OVERLAPPING_ALLAN(2, true, false),
  /** D2 averaged over m neighbours first: tells white from differenced noise. */
  MODIFIED_ALLAN(2, true, true),
  /** The modified form times m / sqrt(3), in reading times reading interval. */
  TIME(2, true, true),
  /** sqrt(mean D3² / (6 m²)) over blocks that do not overlap: blind to a steady drift. */
  HADAMARD(3, false, false),
  /** The same over all i. */
  OVERLAPPING_HADAMARD(3, true, false),
  /** The overlapping form over the record continued by reflection at both ends. */
  TOTAL(2, true, false);

  private final int order;
  private final boolean overlapping;
  private final boolean modified;

  StabilityMeasure(int order, boolean overlapping, boolean modified) {
    this.order = order;
    this.overlapping = overlapping;
    this.modified = modified;
  }

  int order() {
    return order;
  }

  boolean overlapping() {
    return overlapping;
  }

  boolean modified() {
    return modified;
  }

  /** The largest number of readings averaged that n readings allow. */
  public int largestFactor(int n) {
    if (this == TOTAL) {
      return n - 1;
    }
    return modified ? (n + 1) / (order + 1) : n / order;
  }
}
