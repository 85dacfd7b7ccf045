package lotproof.report.model;

import java.util.HashSet;
import java.util.List;
import java.util.Set;
import java.util.regex.Pattern;

/** Checks for record constructors. Each accepts what lies inside, so that NaN fails. */
final class Check {
  private static final Pattern ID = Pattern.compile("[a-z][a-z0-9-]{0,59}");

  private Check() {}

  /** An id becomes a file name, an anchor and a name in a workbook, so it is kept this plain. */
  static String id(String value, String name) {
    if (ID.matcher(value).matches()) {
      return value;
    }
    throw new IllegalArgumentException(
        name
            + " must be lower-case letters, digits and hyphens, start with a letter and have at"
            + " most 60 characters, was \""
            + value
            + "\"");
  }

  static String text(String value, String name) {
    if (value.isBlank()) {
      throw new IllegalArgumentException(name + " must not be blank");
    }
    return value;
  }

  static double finite(double value, String name) {
    if (Double.isFinite(value)) {
      return value;
    }
    throw new IllegalArgumentException(name + " must be a finite number, was " + value);
  }

  static int digits(int value) {
    if (value >= 0 && value <= 15) {
      return value;
    }
    throw new IllegalArgumentException("digits must lie between 0 and 15, was " + value);
  }

  static void distinct(List<String> values, String name) {
    Set<String> seen = new HashSet<>();
    for (String value : values) {
      if (!seen.add(value)) {
        throw new IllegalArgumentException(name + " must not repeat \"" + value + "\"");
      }
    }
  }
}
