package lotproof.gather.capture;

/**
 * The time that a terminal writes before a line: {@code 12:34:56.789}, with or without a date
 * before it, brackets around it and an arrow or a separator behind it.
 */
final class TerminalTime {
  private static final double NONE = -1;

  private int end;
  private double seconds = NONE;

  /** Looks for a time at the start of a line. */
  boolean find(CharSequence text) {
    int at = skipBlanks(text, 0);
    boolean bracket = at < text.length() && text.charAt(at) == '[';
    if (bracket) {
      at++;
    }
    int afterDate = date(text, at);
    int afterTime = time(text, afterDate);
    if (afterTime < 0) {
      return false;
    }
    at = afterTime;
    if (bracket) {
      if (at >= text.length() || text.charAt(at) != ']') {
        return false;
      }
      at++;
    }
    return separator(text, at);
  }

  /** Where the rest of the line starts. */
  int end() {
    return end;
  }

  /** The time of day. */
  double secondsOfDay() {
    return seconds;
  }

  private boolean separator(CharSequence text, int from) {
    int at = skipBlanks(text, from);
    boolean apart = at > from;
    if (text.length() - at >= 2 && text.charAt(at) == '-' && text.charAt(at + 1) == '>') {
      at += 2;
      apart = true;
    } else if (at < text.length() && ">|,;:".indexOf(text.charAt(at)) >= 0) {
      at++;
      apart = true;
    }
    end = skipBlanks(text, at);
    return apart || at == text.length() || (from > 0 && text.charAt(from - 1) == ']');
  }

  /** Behind a date such as 2026-03-04 and its T or blank; where it started when there is none. */
  private static int date(CharSequence text, int from) {
    if (digits(text, from, 4) && is(text, from + 4, '-') && digits(text, from + 5, 2)) {
      boolean day = is(text, from + 7, '-') && digits(text, from + 8, 2);
      boolean apart = is(text, from + 10, 'T') || is(text, from + 10, ' ');
      return day && apart ? from + 11 : from;
    }
    return from;
  }

  private int time(CharSequence text, int from) {
    boolean clock =
        digits(text, from, 2)
            && is(text, from + 2, ':')
            && digits(text, from + 3, 2)
            && is(text, from + 5, ':')
            && digits(text, from + 6, 2);
    if (!clock) {
      return -1;
    }
    int hour = two(text, from);
    int minute = two(text, from + 3);
    int second = two(text, from + 6);
    if (hour > 23 || minute > 59 || second > 60) {
      return -1;
    }
    int at = from + 8;
    double fraction = 0;
    if (is(text, at, '.') && digits(text, at + 1, 1)) {
      double unit = 0.1;
      at++;
      while (digits(text, at, 1)) {
        fraction += unit * (text.charAt(at) - '0');
        unit /= 10;
        at++;
      }
    }
    seconds = hour * 3600.0 + minute * 60.0 + second + fraction;
    return at;
  }

  private static int two(CharSequence text, int at) {
    return 10 * (text.charAt(at) - '0') + text.charAt(at + 1) - '0';
  }

  private static boolean digits(CharSequence text, int from, int count) {
    if (from + count > text.length()) {
      return false;
    }
    for (int i = from; i < from + count; i++) {
      if (text.charAt(i) < '0' || text.charAt(i) > '9') {
        return false;
      }
    }
    return true;
  }

  private static boolean is(CharSequence text, int at, char c) {
    return at < text.length() && text.charAt(at) == c;
  }

  private static int skipBlanks(CharSequence text, int from) {
    int at = from;
    while (at < text.length() && (text.charAt(at) == ' ' || text.charAt(at) == '\t')) {
      at++;
    }
    return at;
  }
}
