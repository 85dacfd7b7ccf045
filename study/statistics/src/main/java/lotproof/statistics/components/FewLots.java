package lotproof.statistics.components;

import lotproof.statistics.Checks;
import lotproof.statistics.ModifiedLargeSample;

/**
 * What few lots cost: by how much the upper limit of the total standard deviation exceeds it, from
 * expected mean squares of one population of lots x units.
 *
 * <p>With f the share of the variance between lots, L lots of m units, gamma the confidence and
 * H_nu = nu / chi2(1 - gamma; nu) - 1: factor = sqrt(1 + sqrt(((1/m)(1 - f + m f) H_{L-1})^2 + ((1
 * - 1/m)(1 - f) H_{L(m-1)})^2)). Modified large sample limits of a balanced nested analysis
 * (Graybill and Wang 1980, from memory).
 */
public final class FewLots {
  private FewLots() {}

  /**
   * The factor.
   *
   * @param lots 2 or more
   * @param unitsPerLot 1 or more
   * @param share in 0..1
   * @param confidence in 0..1
   */
  public static double factor(int lots, double unitsPerLot, double share, double confidence) {
    Checks.atLeast(lots, 2, "lots");
    if (!(unitsPerLot >= 1)) {
      throw new IllegalArgumentException("units a lot must be 1 or more, were " + unitsPerLot);
    }
    double m = unitsPerLot;
    double between = (1 - share + m * share) / m * ModifiedLargeSample.above(lots - 1, confidence);
    double within =
        m > 1
            ? (1 - 1 / m) * (1 - share) * ModifiedLargeSample.above(lots * (m - 1), confidence)
            : 0;
    return Math.sqrt(1 + Math.hypot(between, within));
  }
}
