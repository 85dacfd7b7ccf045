package lotproof.report.assembly;

import java.math.BigDecimal;
import java.math.MathContext;
import java.util.OptionalDouble;
import lotproof.report.model.Cell;
import lotproof.report.model.Quantity;

/** Small helpers for cells and names. */
final class CellTexts {
  private static final int MOST_DECIMALS = 9;

  private CellTexts() {}

  /** A number that is exact as it stands, such as a nominal load, with just the decimals it has. */
  static Quantity exact(double value, String unit) {
    return Quantity.of(value, unit, decimals(value));
  }

  /** Decimals that a number needs, at most nine significant digits. */
  static int decimals(double value) {
    int scale = new BigDecimal(value).round(new MathContext(9)).stripTrailingZeros().scale();
    return Math.max(0, Math.min(MOST_DECIMALS, scale));
  }

  static Cell optional(OptionalDouble value, String reason) {
    return value.isPresent() ? Cell.number(value.getAsDouble()) : Cell.missing(reason);
  }

  static String capital(String word) {
    return Character.toUpperCase(word.charAt(0)) + word.substring(1);
  }
}
