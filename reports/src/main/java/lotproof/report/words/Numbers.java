package lotproof.report.words;

import java.math.BigDecimal;
import java.math.MathContext;
import java.util.Locale;

/** Sentences and the numbers in them: no exponent, no trailing zeros. */
public final class Numbers {
  private Numbers() {}

  /**
   * At most nine significant digits, which hides the binary representation of a decimal step and
   * nothing else.
   */
  public static String plain(double value) {
    return digits(value, 9);
  }

  /** A fraction as a percentage, such as 95 for 0.95. */
  public static String percent(double fraction) {
    return plain(100 * fraction);
  }

  /** A measured number, rounded to some significant digits. */
  public static String digits(double value, int significant) {
    String text =
        new BigDecimal(value)
            .round(new MathContext(significant))
            .stripTrailingZeros()
            .toPlainString();
    return text.equals("-0") ? "0" : text;
  }

  /** Sentences with their parts, the same in every country; see {@link String#format}. */
  public static String text(String format, Object... parts) {
    return String.format(Locale.ROOT, format, parts);
  }

  /** With a capital letter. */
  public static String sentence(String words) {
    return words.isEmpty()
        ? words
        : words.substring(0, 1).toUpperCase(Locale.ROOT) + words.substring(1);
  }

  /** {@code 1 run}, {@code 3 runs}. */
  public static String counted(long count, String noun) {
    return count + " " + (count == 1 ? noun : noun + "s");
  }
}
