package lotproof.report.model;

/**
 * A number with its unit and the way it may be rounded.
 *
 * @param value the value, finite
 * @param unit unit such as {@code g}; empty for a pure number
 * @param style how a writer may round it
 */
public record Quantity(double value, String unit, NumberStyle style) implements Span {
  public Quantity {
    Check.finite(value, "quantity");
  }

  /** Fixed decimals. */
  public static Quantity of(double value, String unit, int decimals) {
    return new Quantity(value, unit, NumberStyle.decimals(decimals));
  }

  /** Significant digits. */
  public static Quantity significant(double value, String unit, int digits) {
    return new Quantity(value, unit, NumberStyle.significant(digits));
  }

  /** A fraction in 0..1, shown as a percentage. */
  public static Quantity percent(double fraction, int decimals) {
    return new Quantity(fraction, "", NumberStyle.percent(decimals));
  }

  /** A whole number of things. */
  public static Quantity count(long number) {
    return new Quantity(number, "", NumberStyle.count());
  }
}
