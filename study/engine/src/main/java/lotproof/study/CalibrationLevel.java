package lotproof.study;

import java.math.BigDecimal;
import java.util.List;
import java.util.stream.Collectors;

/** What the buyer has done before reading. At every level the empty scale has been tared. */
public sealed interface CalibrationLevel {

  /** The name used in study.yaml, in files and in the claim sentence. */
  String key();

  /** The level in words, for the claim sentence. */
  String description();

  /** The level with its masses, such as {@code one-point (20 kg)}. */
  default String label() {
    String masses = kilograms(pointsKilograms(), ", ");
    return masses.isEmpty() ? key() : key() + " (" + masses + " kg)";
  }

  private static String kilograms(List<Double> masses, String separator) {
    return masses.stream()
        .map(kg -> BigDecimal.valueOf(kg).stripTrailingZeros().toPlainString())
        .collect(Collectors.joining(separator));
  }

  /** Known masses that the buyer places, ascending; empty for the factory default factor. */
  List<Double> pointsKilograms();

  /** The factory default factor is used as it is. */
  record None() implements CalibrationLevel {
    @Override
    public String key() {
      return "none";
    }

    @Override
    public String description() {
      return "with the factory default factor, after taring";
    }

    @Override
    public List<Double> pointsKilograms() {
      return List.of();
    }
  }

  /**
   * The buyer calibrates with known masses; between them, and from the tared zero, the scale
   * interpolates in straight lines, and beyond the largest it extends the last one.
   *
   * @param pointsKilograms the masses, ascending, each above 0
   */
  record Calibrated(List<Double> pointsKilograms, MassClass massClass) implements CalibrationLevel {
    public Calibrated {
      if (pointsKilograms.isEmpty()) {
        throw new IllegalArgumentException("a calibration needs at least one mass");
      }
      double previous = 0;
      for (double point : pointsKilograms) {
        if (!(point > previous)) {
          throw new IllegalArgumentException(
              "calibration masses must be above 0 and ascending: " + pointsKilograms);
        }
        previous = point;
      }
      pointsKilograms = List.copyOf(pointsKilograms);
    }

    @Override
    public String key() {
      return switch (pointsKilograms.size()) {
        case 1 -> "one-point";
        case 2 -> "two-point";
        default -> "multi-point";
      };
    }

    @Override
    public String description() {
      String masses = kilograms(pointsKilograms, " and ");
      return "after taring and a "
          + key()
          + " calibration with "
          + masses
          + " kg (class "
          + massClass.key()
          + ")";
    }
  }
}
