package lotproof.study;

import java.math.BigDecimal;
import java.math.MathContext;
import java.math.RoundingMode;
import lotproof.statistics.Checks;

/**
 * The shape of the figure, fixed before the data. Every form has one free number, the figure in
 * grams; what an error may be at a load is that number times {@link #weight}.
 */
public sealed interface ClaimForm {

  /** The name used in study.yaml. */
  String key();

  /**
   * How much wider the figure is at a load than without load; 1 where it is the same everywhere.
   */
  default double weight(double loadKilograms) {
    return 1;
  }

  /** The figure in words, such as {@code ±31 g} or {@code ±(0.05 % of reading + 10 g)}. */
  String words(double grams);

  /** Which errors count. */
  default Side side() {
    return Side.BOTH;
  }

  /** Which errors count: too high, too low, or both. */
  enum Side {
    BOTH,
    /** Only reading too much counts. */
    ABOVE,
    /** Only reading too little counts. */
    BELOW
  }

  /** Whether errors of both signs count. */
  default boolean twoSided() {
    return side() == Side.BOTH;
  }

  /** -1 if only reading too little counts, else 1. */
  default double sign() {
    return side() == Side.BELOW ? -1 : 1;
  }

  /** An error in grams of the form: a bound on such numbers is the figure. */
  default double inForm(double errorGrams, double loadKilograms) {
    return sign() * errorGrams / weight(loadKilograms);
  }

  /** What of an error in grams of the form counts, so that the largest is the worst. */
  default double counted(double inForm) {
    return twoSided() ? Math.abs(inForm) : inForm;
  }

  /** Plus or minus the same number of grams at every load. */
  record Symmetric() implements ClaimForm {
    @Override
    public String key() {
      return "symmetric";
    }

    @Override
    public String words(double grams) {
      return "±" + number(grams) + " g";
    }
  }

  /**
   * Plus or minus a share of the reading and a constant, in a ratio that is fixed before the data.
   * The free number is the constant; the share follows from it.
   *
   * @param readingFraction share of the reading, in 0..1, for {@code constantGrams}
   * @param constantGrams the constant, above 0
   */
  record OfReading(double readingFraction, double constantGrams) implements ClaimForm {
    private static final double GRAMS_PER_KILOGRAM = 1000;

    public OfReading {
      if (!(readingFraction > 0 && readingFraction < 1)) {
        throw new IllegalArgumentException(
            "share of the reading must lie between 0 and 1, was " + readingFraction);
      }
      Checks.positive(constantGrams, "constant part of the figure (g)");
    }

    @Override
    public String key() {
      return "of-reading";
    }

    @Override
    public double weight(double loadKilograms) {
      return 1 + readingFraction * GRAMS_PER_KILOGRAM * loadKilograms / constantGrams;
    }

    @Override
    public String words(double grams) {
      return "±(" + percentOfReading(grams) + " % of reading + " + number(grams) + " g)";
    }

    /** The share of the reading for a figure, in percent, rounded outward to three digits. */
    private String percentOfReading(double grams) {
      double percent = 100 * readingFraction * grams / constantGrams;
      return new BigDecimal(percent)
          .round(new MathContext(9))
          .round(new MathContext(3, RoundingMode.CEILING))
          .stripTrailingZeros()
          .toPlainString();
    }
  }

  /** One side only: the scale never reads too much by more than the figure, or never too little. */
  record OneSided(Side side) implements ClaimForm {
    public OneSided {
      if (side == Side.BOTH) {
        throw new IllegalArgumentException(
            "a one-sided figure needs side ABOVE or BELOW, was BOTH");
      }
    }

    @Override
    public String key() {
      return side == Side.ABOVE ? "not-above" : "not-below";
    }

    @Override
    public String words(double grams) {
      return "at most " + number(grams) + (side == Side.ABOVE ? " g too high" : " g too low");
    }
  }

  private static String number(double value) {
    return new BigDecimal(value).round(new MathContext(9)).stripTrailingZeros().toPlainString();
  }
}
