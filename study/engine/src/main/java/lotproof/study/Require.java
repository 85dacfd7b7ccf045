package lotproof.study;

import java.util.List;
import java.util.Set;

/** Checks for record constructors, beside those of numbers. */
final class Require {
  private Require() {}

  static String text(String value, String name) {
    if (value.isBlank()) {
      throw new IllegalArgumentException(name + " must not be blank");
    }
    return value;
  }

  static <T> List<T> distinct(List<T> values, String name) {
    if (Set.copyOf(values).size() != values.size()) {
      throw new IllegalArgumentException(name + " must not repeat a value: " + values);
    }
    return List.copyOf(values);
  }
}
