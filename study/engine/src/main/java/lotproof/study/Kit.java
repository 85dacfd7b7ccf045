package lotproof.study;

import java.util.OptionalInt;
import lotproof.statistics.Checks;

/**
 * What a buyer gets: one cell with one board, and the factor that the firmware uses before any
 * calibration.
 *
 * @param countsPerMillivoltPerVolt nominal scale of the converter, above 0: counts for a bridge
 *     signal of 1 mV/V
 * @param converterBits width of the converter's codes, if stated; readings beyond it are impossible
 */
public record Kit(
    String cellDescription,
    String boardDescription,
    double capacityKilograms,
    double defaultFactorCountsPerKilogram,
    double countsPerMillivoltPerVolt,
    OptionalInt converterBits) {
  /** Width of the narrowest converters. */
  public static final int FEWEST_BITS = 8;

  /** Width of the widest converters. */
  public static final int MOST_BITS = 32;

  public Kit {
    Checks.positive(capacityKilograms, "capacity (kg)");
    Checks.positive(defaultFactorCountsPerKilogram, "default factor (counts/kg)");
    Checks.positive(countsPerMillivoltPerVolt, "converter scale (counts per mV/V)");
    if (converterBits.isPresent()
        && !(converterBits.getAsInt() >= FEWEST_BITS && converterBits.getAsInt() <= MOST_BITS)) {
      throw new IllegalArgumentException(
          "converter bits must be " + FEWEST_BITS + " to " + MOST_BITS + ", was " + converterBits);
    }
  }
}
