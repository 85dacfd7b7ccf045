package lotproof.folder;

import java.time.DateTimeException;
import java.time.LocalDateTime;
import java.time.format.DateTimeParseException;

/**
 * Times of a record, as {@link LocalDateTime#parse(CharSequence)} reads them. A record holds
 * thousands, nearly all in the one form in which they are written; those are read digit by digit,
 * because the library's formatter is slow before it is compiled.
 */
final class RecordTime {
  private static final String DIGITS = "dddd-dd-ddTdd:dd";
  private static final String SECONDS = ":dd";

  private RecordTime() {}

  /**
   * A time such as 2026-03-04T09:30 or 2026-03-04T09:30:15.
   *
   * @throws DateTimeParseException where the text is no time
   */
  static LocalDateTime parse(String text) {
    boolean seconds = text.length() == DIGITS.length() + SECONDS.length();
    boolean plain =
        hasForm(text, 0, DIGITS)
            && (text.length() == DIGITS.length()
                || (seconds && hasForm(text, DIGITS.length(), SECONDS)));
    if (plain) {
      try {
        return LocalDateTime.of(
            number(text, 0, 4),
            number(text, 5, 7),
            number(text, 8, 10),
            number(text, 11, 13),
            number(text, 14, 16),
            seconds ? number(text, 17, 19) : 0);
      } catch (DateTimeException e) {
        throw new DateTimeParseException("no such time", text, 0, e);
      }
    }
    return LocalDateTime.parse(text);
  }

  private static boolean hasForm(String text, int from, String form) {
    if (text.length() < from + form.length()) {
      return false;
    }
    for (int i = 0; i < form.length(); i++) {
      char c = text.charAt(from + i);
      boolean fits = form.charAt(i) == 'd' ? c >= '0' && c <= '9' : c == form.charAt(i);
      if (!fits) {
        return false;
      }
    }
    return true;
  }

  private static int number(String text, int from, int to) {
    int value = 0;
    for (int i = from; i < to; i++) {
      value = 10 * value + text.charAt(i) - '0';
    }
    return value;
  }
}
