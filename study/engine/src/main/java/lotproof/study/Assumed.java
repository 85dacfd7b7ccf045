package lotproof.study;

import lotproof.statistics.Checks;

/** What is taken to be true of all kits before the study; never a result. */
public sealed interface Assumed {
  /** Where the numbers come from, in words. */
  String origin();

  /**
   * Whether it says how kits spread at a level. A calibration takes out the error of the span, so
   * errors at one level say nothing of another; characteristics say it at every level.
   */
  boolean isOf(CalibrationLevel asked, ClaimRequest claim);

  private static void share(double value, String name) {
    if (!(value >= 0 && value <= 1)) {
      throw new IllegalArgumentException(name + " must lie in 0..1 (0.3 means 30 %), was " + value);
    }
  }

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
      share(cellLotShare, "lot share of cells");
      share(boardLotShare, "lot share of boards");
    }

    @Override
    public boolean isOf(CalibrationLevel asked, ClaimRequest claim) {
      return true;
    }
  }

  /**
   * The error of reading of all kits at the load where it is largest, at one calibration level.
   * Measured in a pilot, or assumed.
   *
   * @param origin where the numbers come from, in words
   * @param level the calibration level that it is of, as {@link CalibrationLevel#label}; empty
   *     where it was written before levels were
   * @param meanGrams mean error of all kits
   * @param cellGrams standard deviation between cells, lots included, 0 or above
   * @param boardGrams standard deviation between boards, lots included, 0 or above
   * @param pairingGrams standard deviation of what a cell and a board do to each other, 0 or above
   * @param repeatGrams standard deviation from one run of a pair to the next, above 0
   * @param cellLotShare part of the variance between cells that is between their lots, in 0..1
   * @param boardLotShare part of the variance between boards that is between their lots, in 0..1
   */
  record AtLevel(
      String origin,
      String level,
      double meanGrams,
      double cellGrams,
      double boardGrams,
      double pairingGrams,
      double repeatGrams,
      double cellLotShare,
      double boardLotShare)
      implements Assumed {
    public AtLevel {
      Checks.finite(meanGrams, "mean error (g)");
      Checks.notNegative(cellGrams, "spread of cells (g)");
      Checks.notNegative(boardGrams, "spread of boards (g)");
      Checks.notNegative(pairingGrams, "spread of pairing (g)");
      Checks.positive(repeatGrams, "spread of repeats (g)");
      share(cellLotShare, "lot share of cells");
      share(boardLotShare, "lot share of boards");
    }

    /** One that names no level is of the only level of its study. */
    @Override
    public boolean isOf(CalibrationLevel asked, ClaimRequest claim) {
      return level.isEmpty() ? claim.levels().size() == 1 : level.equals(asked.label());
    }

    /** Variance between cell lots, g². */
    public double cellLotVariance() {
      return cellLotShare * cellGrams * cellGrams;
    }

    /** Variance between the cells of a lot, g². */
    public double cellVariance() {
      return (1 - cellLotShare) * cellGrams * cellGrams;
    }

    /** Variance between board lots, g². */
    public double boardLotVariance() {
      return boardLotShare * boardGrams * boardGrams;
    }

    /** Variance between the boards of a lot, g². */
    public double boardVariance() {
      return (1 - boardLotShare) * boardGrams * boardGrams;
    }

    /** Variance of pairing, g². */
    public double pairingVariance() {
      return pairingGrams * pairingGrams;
    }

    /** Variance of repeats, g². */
    public double repeatVariance() {
      return repeatGrams * repeatGrams;
    }
  }
}
