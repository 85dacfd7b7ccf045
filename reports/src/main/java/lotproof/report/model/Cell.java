package lotproof.report.model;

import java.util.Optional;
import java.util.OptionalDouble;

/** What stands in a table's cell. */
public sealed interface Cell {

  /** Words, also from outside: writers never let them become a formula, a link or markup. */
  record Text(String text) implements Cell {}

  /** Nothing, and a short reason such as: not measured. */
  record Missing(String reason) implements Cell {}

  /**
   * A number.
   *
   * @param value at full precision, in the unit of its column, finite
   * @param formula how it follows from other cells. A workbook shows that, everything else the
   *     value
   */
  record Numeric(double value, Optional<Formula> formula) implements Cell {
    public Numeric {
      Check.finite(value, "cell value");
    }
  }

  /** Words. */
  static Cell text(String text) {
    return new Text(text);
  }

  /** A number. */
  static Cell number(double value) {
    return new Numeric(value, Optional.empty());
  }

  /** A number that follows from other cells. */
  static Cell computed(double value, Formula formula) {
    return new Numeric(value, Optional.of(formula));
  }

  /** Nothing, and why. */
  static Cell missing(String reason) {
    return new Missing(reason);
  }

  /** The number that it holds, if it holds one. */
  default OptionalDouble number() {
    return this instanceof Numeric number
        ? OptionalDouble.of(number.value())
        : OptionalDouble.empty();
  }
}
