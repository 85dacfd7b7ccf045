package lotproof.report.model;

/**
 * What a column holds, and how a writer may round a number. The number itself stays whole.
 *
 * @param kind what it is
 * @param digits decimals for {@link Kind#DECIMAL} and, of the percentage, for {@link
 *     Kind#FRACTION}; significant digits for {@link Kind#SIGNIFICANT}; else 0
 */
public record Format(Kind kind, int digits) {
  /** Words. */
  public static final Format TEXT = new Format(Kind.TEXT, 0);

  /** The serial of a unit; people search for it. */
  public static final Format SERIAL = new Format(Kind.SERIAL, 0);

  /** A file and row. */
  public static final Format PLACE = new Format(Kind.PLACE, 0);

  /** A number that is exact as it stands, such as a load, with just the digits it has. */
  public static final Format EXACT = new Format(Kind.EXACT, 0);

  /** A whole number of things. */
  public static final Format COUNT = new Format(Kind.COUNT, 0);

  /** What is written. */
  public enum Kind {
    TEXT,
    SERIAL,
    PLACE,
    EXACT,
    DECIMAL,
    SIGNIFICANT,
    FRACTION,
    COUNT;

    /** Whether it is a number. */
    public boolean numeric() {
      return compareTo(EXACT) >= 0;
    }
  }

  public Format {
    if (digits < (kind == Kind.SIGNIFICANT ? 1 : 0) || digits > 15) {
      throw new IllegalArgumentException("no number of digits for " + kind + ": " + digits);
    }
  }

  /** Fixed decimals. */
  public static Format decimals(int decimals) {
    return new Format(Kind.DECIMAL, decimals);
  }

  /** Significant digits. */
  public static Format significant(int digits) {
    return new Format(Kind.SIGNIFICANT, digits);
  }

  /** A fraction in 0..1 that people read as a percentage with the given decimals. */
  public static Format percent(int decimals) {
    return new Format(Kind.FRACTION, decimals);
  }
}
