package lotproof.report.assembly;

import java.math.BigDecimal;
import java.math.MathContext;
import java.util.Optional;
import java.util.OptionalDouble;
import lotproof.report.model.Cell;
import lotproof.report.model.Place;
import lotproof.report.model.Quantity;
import lotproof.study.Provenance;

/** Small helpers for cells and names. */
final class Texts {
  private Texts() {}

  /** A number as part of a name, such as a nominal load: no exponent, no trailing zeros. */
  static String plain(double value) {
    return new BigDecimal(value).round(new MathContext(9)).stripTrailingZeros().toPlainString();
  }

  static Cell optional(OptionalDouble value, String reason) {
    return value.isPresent() ? Cell.number(value.getAsDouble()) : Cell.missing(reason);
  }

  static Cell optional(Optional<Double> value, String reason) {
    return value.map(Cell::number).orElse(Cell.missing(reason));
  }

  static Quantity grams(double grams) {
    return Quantity.significant(grams, "g", 4);
  }

  static Place place(Provenance source) {
    return new Place(source.file(), source.row());
  }
}
