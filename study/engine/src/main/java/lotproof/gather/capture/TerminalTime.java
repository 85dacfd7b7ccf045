package lotproof.gather.capture;

import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * The time that a terminal writes before a line: {@code 12:34:56.789}, with or without a date
 * before it, brackets around it and an arrow or a separator behind it.
 */
final class TerminalTime {
  private static final String STAMP =
      "(?:\\d{4}-\\d\\d-\\d\\d[T ])?([01]\\d|2[0-3]):([0-5]\\d):((?:[0-5]\\d|60)(?:\\.\\d+)?)";
  private static final String JOINT = "(?:->|[>|,;:])";
  private static final Pattern BARE =
      Pattern.compile("[ \t]*" + STAMP + "(?:[ \t]+" + JOINT + "?|" + JOINT + "|$)[ \t]*");
  private static final Pattern BRACKETED =
      Pattern.compile("[ \t]*\\[" + STAMP + "\\][ \t]*" + JOINT + "?[ \t]*");

  private int end;
  private double seconds;

  /** Looks for a time at the start of a line. */
  boolean find(CharSequence text) {
    Matcher time = BARE.matcher(text);
    if (!time.lookingAt()) {
      time = BRACKETED.matcher(text);
      if (!time.lookingAt()) {
        return false;
      }
    }
    end = time.end();
    seconds =
        Integer.parseInt(time.group(1)) * 3600.0
            + Integer.parseInt(time.group(2)) * 60.0
            + Double.parseDouble(time.group(3));
    return true;
  }

  /** Where the rest of the line starts. */
  int end() {
    return end;
  }

  /** The time of day. */
  double secondsOfDay() {
    return seconds;
  }
}
