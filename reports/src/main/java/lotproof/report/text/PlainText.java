package lotproof.report.text;

import java.math.BigDecimal;
import java.math.MathContext;
import java.math.RoundingMode;
import java.util.stream.Collectors;
import lotproof.report.model.Block;
import lotproof.report.model.Cell;
import lotproof.report.model.Format;
import lotproof.report.model.Headline;
import lotproof.report.model.Prose;
import lotproof.report.model.Quantity;
import lotproof.report.model.Table.Column;

/**
 * Numbers, cells and sentences as every writer shows them. Half a unit of the last digit of a
 * number goes away from zero.
 */
public final class PlainText {
  private static final double PLAIN_BELOW = 1e12;
  private static final int PLAIN_LEADING_ZEROS = 4;
  private static final int EXPONENT_DIGITS = 4;
  private static final MathContext EXACT_DIGITS = new MathContext(9);
  private static final String NARROW_BLANK = "\u202F";

  private PlainText() {}

  /** Words, a number rounded as its column asks, or why there is none. */
  public static String of(Cell cell, Column column) {
    if (cell instanceof Cell.Text text) {
      return SanitizedText.clean(text.text());
    }
    return cell instanceof Cell.Missing missing
        ? missing.reason().isBlank() ? "none" : SanitizedText.clean(missing.reason())
        : of(cell.number().orElseThrow(), column.format());
  }

  /** Words of a block that is neither chart nor table: a callout says first what it is. */
  public static String of(Block block) {
    return block instanceof Block.Callout callout
        ? callout.kind().word() + ": " + of(callout.text())
        : of(((Block.Paragraph) block).text());
  }

  /** Sentences with their numbers rounded. */
  public static String of(Prose prose) {
    return prose.spans().stream().map(PlainText::of).collect(Collectors.joining());
  }

  /** A piece of a sentence. */
  public static String of(Prose.Span span) {
    return span instanceof Quantity quantity
        ? of(quantity)
        : SanitizedText.clean(((Prose.Words) span).text());
  }

  /** The figure in print, such as ±50 g, or the words for its absence. */
  public static String of(Headline.KeyFigure figure) {
    return figure instanceof Headline.Supported supported
        ? SanitizedText.clean(supported.sign()) + of(supported.amount())
        : "no figure";
  }

  /** Number with its unit. */
  public static String of(Quantity quantity) {
    String number = of(quantity.value(), quantity.format());
    return quantity.unit().isEmpty()
        ? number
        : number + NARROW_BLANK + SanitizedText.clean(quantity.unit());
  }

  /** Number without its unit; a fraction with its per cent sign. */
  public static String of(double value, Format format) {
    return switch (format.kind()) {
      case EXACT -> decimals(value, exactDecimals(value));
      case DECIMAL -> decimals(value, format.digits());
      case SIGNIFICANT -> significant(value, format.digits());
      case FRACTION ->
          decimals(value * 100, format.digits(), percentOf(value)) + NARROW_BLANK + "%";
      default -> decimals(value, 0);
    };
  }

  /** The shortest text that gives the same number back. */
  public static String exact(double value) {
    if (value == Math.rint(value) && Math.abs(value) < 1e15) {
      return Long.toString((long) value);
    }
    return Double.toString(value);
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
