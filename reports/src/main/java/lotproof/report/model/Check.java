package lotproof.report.model;

import java.util.HashSet;
import java.util.List;
import java.util.Set;

/** Checks for record constructors. Each accepts what lies inside, so that NaN fails. */
final class Check {
  private Check() {}

  /** An id becomes a file name, an anchor and a name in a workbook, so it is kept this plain. */
  static void id(String value, String name) {
    if (!value.matches("[a-z][a-z0-9-]{0,59}")) {
      throw new IllegalArgumentException(
          name + " must be a letter and up to 59 of a-z, 0-9 and hyphen, was \"" + value + "\"");
    }
  }

  static void text(String value, String name) {
    if (value.isBlank()) {
      throw new IllegalArgumentException(name + " must not be blank");
    }
  }

  static void finite(double value, String name) {
    if (!Double.isFinite(value)) {
      throw new IllegalArgumentException(name + " must be a finite number, was " + value);
    }
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
