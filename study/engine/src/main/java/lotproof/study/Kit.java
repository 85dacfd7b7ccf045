package lotproof.study;

/**
 * What a buyer gets: one cell with one board, and the factor that the firmware uses before any
 * calibration.
 *
 * @param cellDescription the cell in a few words
 * @param boardDescription the board in a few words
 * @param capacityKilograms rated capacity of the cell, above 0
 * @param defaultFactorCountsPerKilogram factory default factor, above 0
 * @param countsPerMillivoltPerVolt nominal scale of the converter, above 0: counts for a bridge
 *     signal of 1 mV/V
 */
public record Kit(
    String cellDescription,
    String boardDescription,
    double capacityKilograms,
    double defaultFactorCountsPerKilogram,
    double countsPerMillivoltPerVolt) {
  public Kit {
    Require.positive(capacityKilograms, "capacity (kg)");
    Require.positive(defaultFactorCountsPerKilogram, "default factor (counts/kg)");
    Require.positive(countsPerMillivoltPerVolt, "converter scale (counts per mV/V)");
  }
}
