package lotproof.report.model;

/**
 * How a writer may round a number. The number itself stays whole in the model.
 *
 * @param kind what sort of number it is
 * @param digits decimals for {@link Kind#DECIMAL} and, of the percentage, for {@link
 *     Kind#FRACTION}; significant digits for {@link Kind#SIGNIFICANT}; 0 for {@link Kind#COUNT}
 */
public record NumberStyle(Kind kind, int digits) {

  /** Sorts of number. */
  public enum Kind {
    /** A fixed number of decimals. */
    DECIMAL,
    /** A fixed number of significant digits. */
    SIGNIFICANT,
    /** A fraction in 0..1 that people read as a percentage. */
    FRACTION,
    /** A whole number of things. */
    COUNT
  }

  public NumberStyle {
    Check.digits(digits);
    if (kind == Kind.SIGNIFICANT && digits == 0) {
      throw new IllegalArgumentException("significant digits must be 1 or more, was 0");
    }
  }

  /** Fixed decimals. */
  public static NumberStyle decimals(int decimals) {
    return new NumberStyle(Kind.DECIMAL, decimals);
  }

  /** Significant digits. */
  public static NumberStyle significant(int digits) {
    return new NumberStyle(Kind.SIGNIFICANT, digits);
  }

  /** A fraction shown as a percentage with the given decimals. */
  public static NumberStyle percent(int decimals) {
    return new NumberStyle(Kind.FRACTION, decimals);
  }

  /** A whole number. */
  public static NumberStyle count() {
    return new NumberStyle(Kind.COUNT, 0);
  }
}
