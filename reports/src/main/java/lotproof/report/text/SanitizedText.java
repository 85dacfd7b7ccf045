package lotproof.report.text;

/**
 * Text that came from outside (serials, remarks, file names) made harmless to show. Escaping for a
 * format is the writer's business; this takes out what no format should carry.
 */
public final class SanitizedText {
  private static final char REPLACEMENT = '\uFFFD';

  private SanitizedText() {}

  /**
   * The text with line breaks and tabs as blanks, and with the replacement character for every
   * other control character (a terminal would obey some), every half of a character, and every mark
   * that turns the direction of what follows (a serial could then look like another one).
   */
  public static String clean(String text) {
    StringBuilder clean = new StringBuilder(text.length());
    int i = 0;
    while (i < text.length()) {
      int c = text.codePointAt(i);
      i += Character.charCount(c);
      if (c == '\n' || c == '\r' || c == '\t') {
        clean.append(' ');
      } else if (harmful(c)) {
        clean.append(REPLACEMENT);
      } else {
        clean.appendCodePoint(c);
      }
    }
    return clean.toString();
  }

  /** Whether a spreadsheet might take the text for a formula. */
  public static boolean looksLikeFormula(String text) {
    String start = text.stripLeading();
    return !start.isEmpty() && "=+-@|\uFF1D\uFF0B\uFF0D\uFF20".indexOf(start.charAt(0)) >= 0;
  }

  /**
   * The text cut to a number of characters in its middle: serials tend to differ at their ends.
   *
   * @param most at least 3
   */
  public static String abridged(String text, int most) {
    String clean = clean(text);
    int length = clean.codePointCount(0, clean.length());
    if (length <= most) {
      return clean;
    }
    int tail = (most - 1) / 2;
    return clean.substring(0, clean.offsetByCodePoints(0, most - 1 - tail))
        + "…"
        + clean.substring(clean.offsetByCodePoints(0, length - tail));
  }

  private static boolean harmful(int c) {
    int type = Character.getType(c);
    boolean turnsDirection =
        c == 0x061C
            || c == 0x200E
            || c == 0x200F
            || within(c, 0x202A, 0x202E)
            || within(c, 0x2066, 0x2069);
    boolean noCharacter = (c & 0xFFFE) == 0xFFFE || within(c, 0xFDD0, 0xFDEF);
    boolean breaksLine = c == 0x2028 || c == 0x2029;
    return type == Character.CONTROL
        || type == Character.SURROGATE
        || turnsDirection
        || noCharacter
        || breaksLine;
  }

  private static boolean within(int c, int first, int last) {
    return c >= first && c <= last;
  }
}
