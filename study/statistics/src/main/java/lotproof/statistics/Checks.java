package lotproof.statistics;

/**
 * Range checks for arguments. Each accepts what lies inside the range, so that NaN fails, returns
 * the checked value, and throws an IllegalArgumentException with name, value and range otherwise.
 */
public final class Checks {
  private Checks() {}

  /** Any finite number. */
  public static double finite(double value, String name) {
    if (Double.isFinite(value)) {
      return value;
    }
    throw new IllegalArgumentException(name + " must be a finite number, was " + value);
  }

  /** A finite number above zero. */
  public static double positive(double value, String name) {
    if (value > 0 && Double.isFinite(value)) {
      return value;
    }
    throw new IllegalArgumentException(name + " must be above 0 and finite, was " + value);
  }

  /** A finite number at or above zero. */
  public static double notNegative(double value, String name) {
    if (value >= 0 && Double.isFinite(value)) {
      return value;
    }
    throw new IllegalArgumentException(name + " must be 0 or above and finite, was " + value);
  }

  /** A probability strictly between 0 and 1; 0.95 means 95 %. */
  public static double fraction(double value, String name) {
    if (value > 0 && value < 1) {
      return value;
    }
    throw new IllegalArgumentException(
        name + " must lie between 0 and 1 (0.95 means 95 %), was " + value);
  }

  /** A whole number at or above a smallest one. */
  public static int atLeast(int value, int smallest, String name) {
    if (value >= smallest) {
      return value;
    }
    throw new IllegalArgumentException(name + " must be " + smallest + " or above, was " + value);
  }

  /** A copy of a sample with at least so many values, all of them finite. */
  public static double[] sample(double[] values, int smallestSize, String name) {
    if (values.length < smallestSize) {
      throw new IllegalArgumentException(
          name + " must hold at least " + smallestSize + " values, held " + values.length);
    }
    double[] copy = values.clone();
    for (int i = 0; i < copy.length; i++) {
      if (!Double.isFinite(copy[i])) {
        // the name is put together here only: samples are checked by the million
        finite(copy[i], name + "[" + i + "]");
      }
    }
    return copy;
  }

  /** Two samples of one length. */
  public static void sameLength(double[] first, double[] second, String names) {
    if (first.length != second.length) {
      throw new IllegalArgumentException(
          names + " must have one length, had " + first.length + " and " + second.length);
    }
  }
}
