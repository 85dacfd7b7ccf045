package lotproof.report.model;

/**
 * A number with its unit and the way it may be rounded.
 *
 * @param value the value, finite
 * @param unit unit such as {@code g}; empty for a pure number
 * @param format how a writer may round it
 */
public record Quantity(double value, String unit, Format format) {
  static final String NARROW_BLANK = "\u202F";

  public Quantity {
    Check.finite(value, "quantity");
  }

  /** Rounded, with its unit. */
  @Override
  public String toString() {
    return format.text(value) + (unit.isEmpty() ? "" : NARROW_BLANK + unit);
  }

  /** Fixed decimals. */
  public static Quantity of(double value, String unit, int decimals) {
    return new Quantity(value, unit, Format.decimals(decimals));
  }

  /** Significant digits. */
  public static Quantity significant(double value, String unit, int digits) {
    return new Quantity(value, unit, Format.significant(digits));
  }

  /** A fraction in 0..1, shown as a percentage. */
  public static Quantity percent(double fraction, int decimals) {
    return new Quantity(fraction, "", Format.percent(decimals));
  }

  /** A whole number of things. */
  public static Quantity count(long number) {
    return new Quantity(number, "", Format.COUNT);
  }
}
