package lotproof.study;

import lotproof.statistics.Checks;

/** What is taken to be true of all kits before the study; never a result. */
public sealed interface Assumed permits AssumedSpread, Assumed.DataSheet {
  /** Where the numbers come from, in words. */
  String origin();

  /**
   * Whether it says how kits spread at a level. A calibration takes out the error of the span, so
   * errors at one level say nothing of another; characteristics say it at every level.
   */
  boolean isOf(CalibrationLevel asked, ClaimRequest claim);

  /**
   * Characteristics as a data sheet gives them, as standard deviations between units. They hold
   * before any calibration; what a calibration leaves of them is computed.
   *
   * @param origin where the numbers come from, in words
   * @param cellPercent of the sensitivity between cells, % of reading, lots included, 0 or above
   * @param boardPercent of the gain between boards, % of reading, lots included, 0 or above
   * @param combinedPercent of the non-linearity between cells, and of their hysteresis, each at its
   *     largest, % of capacity, 0 or above
   * @param repeatGrams of one reading, from one run of a pair to the next, g, above 0
   * @param cellLotShare part of the variance between cells that is between their lots, in 0..1
   * @param boardLotShare part of the variance between boards that is between their lots, in 0..1
   */
  record DataSheet(
      String origin,
      double cellPercent,
      double boardPercent,
      double combinedPercent,
      double repeatGrams,
      double cellLotShare,
      double boardLotShare)
      implements Assumed {
    public DataSheet {
      Checks.notNegative(cellPercent, "spread of the cells' sensitivity (%)");
      Checks.notNegative(boardPercent, "spread of the boards' gain (%)");
      Checks.notNegative(combinedPercent, "combined error (%)");
      Checks.positive(repeatGrams, "spread of repeats (g)");
      AssumedSpread.share(cellLotShare, "lot share of cells");
      AssumedSpread.share(boardLotShare, "lot share of boards");
    }

    @Override
    public boolean isOf(CalibrationLevel asked, ClaimRequest claim) {
      return true;
    }
  }
}
