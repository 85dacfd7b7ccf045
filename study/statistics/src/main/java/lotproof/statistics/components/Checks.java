package lotproof.statistics.components;

/** Range checks. Each accepts what lies inside, so that NaN fails. */
final class Checks {
  private Checks() {}

  static void finite(double[] values, String name) {
    for (double value : values) {
      if (!Double.isFinite(value)) {
        throw new IllegalArgumentException(name + " must hold finite numbers, was " + value);
      }
    }
  }

  static double fraction(double value, String name) {
    if (value > 0 && value < 1) {
      return value;
    }
    throw new IllegalArgumentException(
        name + " must lie between 0 and 1 (0.95 means 95 %), was " + value);
  }
}
