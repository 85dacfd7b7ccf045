package lotproof.study;

import java.util.List;
import java.util.Set;

/** Range checks for record constructors. Each accepts what lies inside, so that NaN fails. */
final class Require {
  private Require() {}

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

  static double positive(double value, String name) {
    if (value > 0 && Double.isFinite(value)) {
      return value;
    }
    throw new IllegalArgumentException(name + " must be above 0 and finite, was " + value);
  }

  static double notNegative(double value, String name) {
    if (value >= 0 && Double.isFinite(value)) {
      return value;
    }
    throw new IllegalArgumentException(name + " must be 0 or above and finite, was " + value);
  }

  /** A probability strictly between 0 and 1; 0.95 means 95 %. */
  static double fraction(double value, String name) {
    if (value > 0 && value < 1) {
      return value;
    }
    throw new IllegalArgumentException(
        name + " must lie between 0 and 1 (0.95 means 95 %), was " + value);
  }

  static <T> List<T> distinct(List<T> values, String name) {
    if (Set.copyOf(values).size() != values.size()) {
      throw new IllegalArgumentException(name + " must not repeat a value: " + values);
    }
    return List.copyOf(values);
  }
}
