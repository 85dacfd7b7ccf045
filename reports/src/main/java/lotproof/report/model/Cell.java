package lotproof.report.model;

import java.util.Optional;
import java.util.OptionalDouble;

/** What stands in a table's cell. A formula says how it follows from other cells of a workbook. */
public sealed interface Cell {

  /** Words, also from outside: writers never let them become a formula, a link or markup. */
  record Text(String text, Optional<Formula> formula) implements Cell {}

  /** Nothing, and a short reason such as: not measured. */
  record Missing(String reason, Optional<Formula> formula) implements Cell {}

  /**
   * A number.
   *
   * @param value at full precision, in the unit of its column, finite
   */
  record Numeric(double value, Optional<Formula> formula) implements Cell {
    public Numeric {
      Check.finite(value, "cell value");
    }
  }

  /** How it follows from other cells; a workbook shows that, everything else the value. */
  Optional<Formula> formula();

  /** Words. */
  static Cell text(String text) {
    return new Text(text, Optional.empty());
  }

  /** A number. */
  static Cell number(double value) {
    return new Numeric(value, Optional.empty());
  }

  /** Nothing, and why. */
  static Cell missing(String reason) {
    return new Missing(reason, Optional.empty());
  }

  /** The same, following from other cells. */
  default Cell from(Formula formula) {
    Optional<Formula> behind = Optional.of(formula);
    if (this instanceof Text words) {
      return new Text(words.text(), behind);
    }
    return this instanceof Numeric number
        ? new Numeric(number.value(), behind)
        : new Missing(((Missing) this).reason(), behind);
  }

  /** The number that it holds, if it holds one. */
  default OptionalDouble number() {
    return this instanceof Numeric number
        ? OptionalDouble.of(number.value())
        : OptionalDouble.empty();
  }
}
