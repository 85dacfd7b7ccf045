package lotproof.statistics;

/** The size of a normal value whose mean is not zero. */
public final class FoldedNormal {
  private FoldedNormal() {}

  /**
   * A with P(|X| is at most A) = content for X normal with the mean and standard deviation. With
   * standard deviation 0 it is the size of the mean. Newton steps inside a bracket.
   *
   * @param mean finite
   * @param sd 0 or above
   * @param content in 0..1
   */
  public static double halfWidth(double mean, double sd, double content) {
    if (!(sd >= 0)) {
      throw new IllegalArgumentException("sd must be 0 or above, was " + sd);
    }
    double size = Math.abs(mean);
    if (sd == 0) {
      return size;
    }
    double shift = size / sd;
    double low = Math.max(0, shift + DistributionQuantiles.normal(content));
    double high = shift + DistributionQuantiles.normal((1 + content) / 2);
    double a = high;
    for (int i = 0; i < 100 && high - low > 1e-15 * high; i++) {
      double inside =
          DistributionQuantiles.NORMAL.cumulativeProbability(a - shift)
              - DistributionQuantiles.NORMAL.cumulativeProbability(-a - shift);
      if (inside > content) {
        high = a;
      } else {
        low = a;
      }
      double slope =
          DistributionQuantiles.NORMAL.density(a - shift)
              + DistributionQuantiles.NORMAL.density(a + shift);
      double next = a - (inside - content) / slope;
      if (Math.abs(next - a) <= 1e-15 * a) {
        break;
      }
      a = next > low && next < high ? next : (low + high) / 2;
    }
    return a * sd;
  }
}
