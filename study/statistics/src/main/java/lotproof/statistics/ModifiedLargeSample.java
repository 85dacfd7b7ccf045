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
}
