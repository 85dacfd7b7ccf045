package lotproof.study;

import lotproof.statistics.Checks;

/**
 * The error of reading of all kits at the load where it is largest, at one calibration level.
 * Measured in a pilot, or assumed.
 *
 * @param origin where the numbers come from, in words
 * @param level the calibration level that it is of, as {@link CalibrationLevel#label}; empty where
 *     it was written before levels were
 * @param meanGrams mean error of all kits
 * @param cellGrams standard deviation between cells, lots included, 0 or above
 * @param boardGrams standard deviation between boards, lots included, 0 or above
 * @param pairingGrams standard deviation of what a cell and a board do to each other, 0 or above
 * @param repeatGrams standard deviation from one run of a pair to the next, above 0
 * @param cellLotShare part of the variance between cells that is between their lots, in 0..1
 * @param boardLotShare part of the variance between boards that is between their lots, in 0..1
 */
public record AssumedSpread(
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
  public AssumedSpread {
    Checks.finite(meanGrams, "mean error (g)");
    Checks.notNegative(cellGrams, "spread of cells (g)");
    Checks.notNegative(boardGrams, "spread of boards (g)");
    Checks.notNegative(pairingGrams, "spread of pairing (g)");
    Checks.positive(repeatGrams, "spread of repeats (g)");
    share(cellLotShare, "lot share of cells");
    share(boardLotShare, "lot share of boards");
  }

  static void share(double value, String name) {
    if (!(value >= 0 && value <= 1)) {
      throw new IllegalArgumentException(name + " must lie in 0..1 (0.3 means 30 %), was " + value);
    }
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
