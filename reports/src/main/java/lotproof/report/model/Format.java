package lotproof.report.model;

import java.math.BigDecimal;
import java.math.MathContext;
import java.math.RoundingMode;

/**
 * What a column holds, and how a writer may round a number. The number itself stays whole.
 *
 * @param kind what it is
 * @param digits decimals for {@link Kind#DECIMAL} and, of the percentage, for {@link
 *     Kind#FRACTION}; significant digits for {@link Kind#SIGNIFICANT}; else 0
 */
public record Format(Kind kind, int digits) {
  private static final double PLAIN_BELOW = 1e12;
  private static final int PLAIN_LEADING_ZEROS = 4;
  private static final int EXPONENT_DIGITS = 4;
  private static final MathContext EXACT_DIGITS = new MathContext(9);

  /** Words. */
  public static final Format TEXT = new Format(Kind.TEXT, 0);

  /** The serial of a unit; people search for it. */
  public static final Format SERIAL = new Format(Kind.SERIAL, 0);

  /** A file and row. */
  public static final Format PLACE = new Format(Kind.PLACE, 0);

  /** A number that is exact as it stands, such as a load, with just the digits it has. */
  public static final Format EXACT = new Format(Kind.EXACT, 0);

  /** A whole number of things. */
  public static final Format COUNT = new Format(Kind.COUNT, 0);

  /** What is written. */
  public enum Kind {
    TEXT,
    SERIAL,
    PLACE,
    EXACT,
    DECIMAL,
    SIGNIFICANT,
    FRACTION,
    COUNT;

    /** Whether it is a number. */
    public boolean numeric() {
      return compareTo(EXACT) >= 0;
    }
  }

  public Format {
    if (digits < (kind == Kind.SIGNIFICANT ? 1 : 0) || digits > 15) {
      throw new IllegalArgumentException("no number of digits for " + kind + ": " + digits);
    }
  }

  /** Fixed decimals. */
  public static Format decimals(int decimals) {
    return new Format(Kind.DECIMAL, decimals);
  }

  /** Significant digits. */
  public static Format significant(int digits) {
    return new Format(Kind.SIGNIFICANT, digits);
  }

  /** A fraction in 0..1 that people read as a percentage with the given decimals. */
  public static Format percent(int decimals) {
    return new Format(Kind.FRACTION, decimals);
  }

  /**
   * A number without its unit; a fraction with its per cent sign. Half a unit of the last digit
   * goes away from zero.
   */
  public String text(double value) {
    return switch (kind) {
      case EXACT -> decimals(value, exactDecimals(value));
      case DECIMAL -> decimals(value, digits);
      case SIGNIFICANT -> significant(value, digits);
      case FRACTION ->
          decimals(value * 100, digits, percentOf(value)) + Quantity.NARROW_BLANK + "%";
      default -> decimals(value, 0);
    };
  }

  /** Decimals that a number needs, at most nine significant digits. */
  public static int exactDecimals(double value) {
    int scale = BigDecimal.valueOf(value).round(EXACT_DIGITS).stripTrailingZeros().scale();
    return Math.max(0, Math.min(EXACT_DIGITS.getPrecision(), scale));
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
