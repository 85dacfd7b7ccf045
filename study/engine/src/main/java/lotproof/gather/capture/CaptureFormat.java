package lotproof.gather.capture;

import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;

/**
 * What a person says about captures; everything left empty is read from the file or asked for.
 *
 * @param separator what separates columns
 * @param valueColumn header or position (counted from 1) of the column with the samples
 * @param timeColumn header or position (counted from 1) of the column with the clock
 * @param radix how codes are written
 * @param coding what a code means
 * @param bits width of a code; with a coding other than as written it must be given
 * @param clock unit of a clock that is a plain number
 * @param clockBits width of a counter that wraps
 * @param samplesPerSecond rate of a capture without clock
 * @param mark what a point or comma within a number is
 */
public record CaptureFormat(
    Optional<Character> separator,
    Optional<String> valueColumn,
    Optional<String> timeColumn,
    Radix radix,
    Coding coding,
    OptionalInt bits,
    ClockUnit clock,
    OptionalInt clockBits,
    OptionalDouble samplesPerSecond,
    Mark mark) {

  /** Nothing is said; all is read from the file. */
  public static final CaptureFormat AS_FOUND =
      new CaptureFormat(
          Optional.empty(),
          Optional.empty(),
          Optional.empty(),
          Radix.AUTO,
          Coding.AUTO,
          OptionalInt.empty(),
          ClockUnit.AUTO,
          OptionalInt.empty(),
          OptionalDouble.empty(),
          Mark.AUTO);

  /** How codes are written. */
  public enum Radix {
    /** As the file shows without doubt. */
    AUTO,
    DECIMAL,
    HEX;

    /** The word for it in options. */
    public String word() {
      return name().toLowerCase(Locale.ROOT);
    }
  }

  /** What a point or comma within a number is. */
  public enum Mark {
    /** A decimal mark, where the file shows it without doubt. */
    AUTO,
    DECIMAL,
    THOUSANDS;

    /** The word for it in options. */
    public String word() {
      return name().toLowerCase(Locale.ROOT);
    }
  }

  /** What a code means. */
  public enum Coding {
    /** Decimal numbers mean what they say; for hexadecimal ones it is asked. */
    AUTO("auto"),
    /** From 0 up. */
    UNSIGNED("unsigned"),
    /** Codes from half of the range on are negative. */
    TWOS_COMPLEMENT("twos-complement"),
    /** Half of the range is zero. */
    OFFSET_BINARY("offset-binary");

    private final String word;

    Coding(String word) {
      this.word = word;
    }

    /** The word for it in options. */
    public String word() {
      return word;
    }
  }

  /** Unit of a clock that is a plain number. */
  public enum ClockUnit {
    /** As the header shows without doubt. */
    AUTO("auto", 0),
    /** The clock is left out. */
    NONE("none", 0),
    SECOND("s", 1),
    MILLISECOND("ms", 1e-3),
    MICROSECOND("us", 1e-6);

    private final String word;
    private final double seconds;

    ClockUnit(String word, double seconds) {
      this.word = word;
      this.seconds = seconds;
    }

    /** The word for it in options. */
    public String word() {
      return word;
    }

    /** Its length; 0 where it is none. */
    public double seconds() {
      return seconds;
    }
  }

  public CaptureFormat {
    if (bits.isPresent() && !(bits.getAsInt() >= 2 && bits.getAsInt() <= 48)) {
      throw new IllegalArgumentException("bits must lie in 2..48, was " + bits.getAsInt());
    }
    if (clockBits.isPresent() && !(clockBits.getAsInt() >= 8 && clockBits.getAsInt() <= 48)) {
      throw new IllegalArgumentException(
          "clock bits must lie in 8..48, was " + clockBits.getAsInt());
    }
    if (samplesPerSecond.isPresent()
        && !(samplesPerSecond.getAsDouble() > 0 && samplesPerSecond.getAsDouble() <= 1e9)) {
      throw new IllegalArgumentException(
          "samples per second must lie above 0 and up to 1e9, was "
              + samplesPerSecond.getAsDouble());
    }
    boolean coded = coding == Coding.TWOS_COMPLEMENT || coding == Coding.OFFSET_BINARY;
    if (coded && bits.isEmpty()) {
      throw new IllegalArgumentException(
          "the coding " + coding.word() + " needs the width of a code; give --bits, such as 24");
    }
  }
}
