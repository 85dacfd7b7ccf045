package lotproof.report.model;

import java.util.OptionalDouble;

/** What stands in a table's cell. */
public sealed interface Cell {

  /**
   * Words. Outside text is welcome: writers never let it become a formula, a link or markup.
   *
   * @param text the words
   */
  record Text(String text) implements Cell {}

  /**
   * A number at full precision, in the unit of its column.
   *
   * @param value the value, finite
   */
  record Numeric(double value) implements Cell {
    public Numeric {
      Check.finite(value, "cell value");
    }
  }

  /**
   * Nothing, and why.
   *
   * @param reason short reason such as: not measured
   */
  record Missing(String reason) implements Cell {}

  /**
   * A number that follows from other cells. A workbook shows the formula; everything else the
   * value.
   *
   * @param value the program's value, finite
   * @param formula how it follows
   */
  record Computed(double value, Formula formula) implements Cell {
    public Computed {
      Check.finite(value, "cell value");
    }
  }

  /** Words. */
  static Cell text(String text) {
    return new Text(text);
  }

  /** A number. */
  static Cell number(double value) {
    return new Numeric(value);
  }

  /** Nothing, and why. */
  static Cell missing(String reason) {
    return new Missing(reason);
  }

  /** A number that follows from other cells. */
  static Cell computed(double value, Formula formula) {
    return new Computed(value, formula);
  }

  /** The number that it holds, if it holds one. */
  default OptionalDouble number() {
    if (this instanceof Numeric plain) {
      return OptionalDouble.of(plain.value());
    }
    return this instanceof Computed computed
        ? OptionalDouble.of(computed.value())
        : OptionalDouble.empty();
  }
}
