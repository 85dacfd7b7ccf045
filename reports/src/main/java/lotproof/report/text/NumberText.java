package lotproof.report.text;

import java.math.BigDecimal;
import java.math.MathContext;
import java.math.RoundingMode;
import lotproof.report.model.NumberStyle;
import lotproof.report.model.Quantity;

/**
 * Numbers in words, the same in every writer. Half a unit of the last digit goes away from zero.
 */
public final class NumberText {
  private static final double PLAIN_BELOW = 1e12;
  private static final int PLAIN_LEADING_ZEROS = 4;
  private static final int EXPONENT_DIGITS = 4;
  private static final String NARROW_BLANK = "\u202F";

  private NumberText() {}

  /** Number with its unit. */
  public static String of(Quantity quantity) {
    String number = of(quantity.value(), quantity.style());
    return quantity.unit().isEmpty()
        ? number
        : number + NARROW_BLANK + OutsideText.clean(quantity.unit());
  }

  /** Number without its unit; a fraction with its per cent sign. */
  public static String of(double value, NumberStyle style) {
    return switch (style.kind()) {
      case DECIMAL -> decimals(value, style.digits());
      case SIGNIFICANT -> significant(value, style.digits());
      case FRACTION -> decimals(value * 100, style.digits(), percentOf(value)) + NARROW_BLANK + "%";
      case COUNT -> decimals(value, 0);
    };
  }

  /** The shortest text that gives the same number back. */
  public static String exact(double value) {
    if (value == Math.rint(value) && Math.abs(value) < 1e15) {
      return Long.toString((long) value);
    }
    return Double.toString(value);
  }

  private static BigDecimal percentOf(double value) {
    return BigDecimal.valueOf(value).movePointRight(2);
  }

  private static String decimals(double value, int digits) {
    return decimals(value, digits, BigDecimal.valueOf(value));
  }

  private static String decimals(double value, int digits, BigDecimal exact) {
    if (!(Math.abs(value) < PLAIN_BELOW)) {
      return withExponent(exact, Math.max(2, Math.min(digits, EXPONENT_DIGITS)));
    }
    return signed(exact.setScale(digits, RoundingMode.HALF_UP));
  }

  private static String significant(double value, int digits) {
    BigDecimal rounded =
        BigDecimal.valueOf(value).round(new MathContext(digits, RoundingMode.HALF_UP));
    if (rounded.signum() == 0) {
      return "0";
    }
    int leading = rounded.precision() - rounded.scale() - 1;
    if (leading < -PLAIN_LEADING_ZEROS || !(Math.abs(value) < PLAIN_BELOW)) {
      return withExponent(rounded, digits);
    }
    return signed(rounded.setScale(Math.max(0, digits - 1 - leading), RoundingMode.HALF_UP));
  }

  private static String withExponent(BigDecimal value, int digits) {
    BigDecimal rounded = value.round(new MathContext(digits, RoundingMode.HALF_UP));
    int exponent = rounded.precision() - rounded.scale() - 1;
    BigDecimal mantissa =
        rounded.movePointLeft(exponent).setScale(digits - 1, RoundingMode.HALF_UP);
    return signed(mantissa) + "e" + exponent;
  }

  /** With the minus sign of print, and no sign on a zero. */
  private static String signed(BigDecimal value) {
    String text = value.abs().toPlainString();
    return value.signum() < 0 ? "\u2212" + text : text;
  }
}
