package lotproof.statistics;

/**
 * Modified large sample margins of sums of mean squares: how far a confidence limit of each mean
 * square lies from it, as a share of it. A limit of sum a_i MS_i is the estimate plus or minus the
 * root of the sum of (a_i MS_i margin_i)^2.
 *
 * <p>Above: H = nu / chi2(1 - confidence; nu) - 1. Below: G = 1 - nu / chi2(confidence; nu). A mean
 * square with a negative coefficient counts with the other margin.
 *
 * <p>Sources: Graybill and Wang (1980), J. Amer. Statist. Assoc. 75; Ting, Burdick, Graybill,
 * Jeyaratnam and Lu (1990) for negative coefficients (both from memory).
 */
public final class ModifiedLargeSample {
  private ModifiedLargeSample() {}

  /** H, one-sided. */
  public static double above(double degreesOfFreedom, double confidence) {
    return degreesOfFreedom / DistributionQuantiles.chiSquare(degreesOfFreedom, 1 - confidence) - 1;
  }

  /** G, one-sided. */
  public static double below(double degreesOfFreedom, double confidence) {
    return 1
        - degreesOfFreedom / DistributionQuantiles.chiSquareUpper(degreesOfFreedom, 1 - confidence);
  }

  /**
   * What few lots cost: by how much the upper limit of the total standard deviation exceeds it,
   * from expected mean squares of one balanced population of L lots of m units.
   *
   * <p>With f the share of the variance between lots: sqrt(1 + sqrt(((1/m)(1 - f + m f) H_{L-1})^2
   * + ((1 - 1/m)(1 - f) H_{L(m-1)})^2)).
   *
   * @param lots 2 or more
   * @param unitsPerLot 1 or more
   * @param share in 0..1
   * @param confidence in 0..1
   */
  public static double fewLotsFactor(
      int lots, double unitsPerLot, double share, double confidence) {
    Checks.atLeast(lots, 2, "lots");
    if (!(unitsPerLot >= 1)) {
      throw new IllegalArgumentException("units a lot must be 1 or more, were " + unitsPerLot);
    }
    double m = unitsPerLot;
    double between = (1 - share + m * share) / m * above(lots - 1, confidence);
    double within = m > 1 ? (1 - 1 / m) * (1 - share) * above(lots * (m - 1), confidence) : 0;
    return Math.sqrt(1 + Math.hypot(between, within));
  }
}
