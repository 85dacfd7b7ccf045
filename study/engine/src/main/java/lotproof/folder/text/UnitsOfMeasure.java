package lotproof.folder.text;

import java.math.BigDecimal;
import java.math.MathContext;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import lotproof.study.DataIssue;
import lotproof.study.DataIssue.Code;
import lotproof.study.Result;

/**
 * The one table of units of measure that files may use, and the reading of quantities such as
 * {@code 50 kg}. Conversions are done in decimal and rounded once, to the nearest double.
 *
 * <p>Sources of the factors: pound 0.45359237 kg exactly (international yard and pound agreement,
 * 1959), ounce a sixteenth of it; newton by standard gravity 9.80665 m/s² exactly (3rd CGPM, 1901),
 * which is the gravity of no particular bench; degree Fahrenheit by its definition (°F - 32) · 5/9.
 */
public final class UnitsOfMeasure {
  private static final String NUMBER =
      "[+-]?(?:[0-9]+(?:\\.[0-9]*)?|\\.[0-9]+)(?:[eE][+-]?[0-9]{1,3})?";
  private static final Pattern NUMBER_ALONE = Pattern.compile(NUMBER);

  /** Three digits behind the only mark, and a number before it that could be thousands. */
  private static final Pattern EITHER = Pattern.compile("[+-]?[1-9][0-9]{0,2}[.,][0-9]{3}");

  /** Time to read digits grows with their square. */
  private static final int LONGEST = 1000;

  private static final Pattern QUANTITY = Pattern.compile("(" + NUMBER + ")(\\s*)(\\D.*)");

  private UnitsOfMeasure() {}

  /** What is measured. */
  public enum Dimension {
    MASS("mass", 1e-9, 1e6, "0.000000001 kg to 1000000 kg"),
    OUTPUT("converter output", 1e-6, 1e15, "0.000001 counts to 1e15 counts"),
    TEMPERATURE("temperature", 0, 120, "-120 °C to 120 °C"),
    BRIDGE_SIGNAL("bridge signal", 1e-9, 1e7, "0.000000001 mV/V to 10000000 mV/V"),
    FACTOR("factor", 1e-3, 1e15, "0.001 counts/kg to 1e15 counts/kg"),
    CONVERTER_SCALE("converter scale", 1e-3, 1e15, "0.001 counts/(mV/V) to 1e15 counts/(mV/V)"),
    SHARE_OF_CAPACITY("share of the capacity", 1e-9, 1e6, "0.000000001 % to 1000000 %");

    private final String words;
    private final double smallest;
    private final double largest;
    private final String range;

    Dimension(String words, double smallest, double largest, String range) {
      this.words = words;
      this.smallest = smallest;
      this.largest = largest;
      this.range = range;
    }

    /**
     * Why a quantity cannot be meant, in the unit that comes first; empty when it can. Zero can,
     * and so can values below zero of the same size. The ranges are wide: they keep out what no
     * bench has and no computation carries.
     */
    public Optional<String> outOfRange(double value) {
      double size = Math.abs(value);
      return size == 0 || (size >= smallest && size <= largest)
          ? Optional.empty()
          : Optional.of("a " + words + " is " + (smallest > 0 ? "0, or in size " : "") + range);
    }

    /** The dimension in words. */
    public String words() {
      return words;
    }
  }

  /** A unit, with its relation to the unit that the record uses for its dimension. */
  public enum Unit {
    KILOGRAM("kg", Dimension.MASS, "1", "1", "0", "Kg", "KG", "kgs", "kilogram", "kilograms"),
    GRAM("g", Dimension.MASS, "1", "1000", "0", "gr", "gram", "grams"),
    POUND("lb", Dimension.MASS, "0.45359237", "1", "0", "lbs", "LB", "lbm", "pound", "pounds"),
    OUNCE("oz", Dimension.MASS, "0.45359237", "16", "0", "ozs", "OZ", "Oz", "ounce", "ounces"),
    NEWTON("N", Dimension.MASS, "1", "9.80665", "0", "newton", "newtons"),
    COUNTS("counts", Dimension.OUTPUT, "1", "1", "0", "count", "Counts", "cts", "digits", "LSB"),
    CELSIUS(
        "°C", Dimension.TEMPERATURE, "1", "1", "0", "degC", "deg C", "C", "° C", "℃", "celsius"),
    FAHRENHEIT(
        "°F",
        Dimension.TEMPERATURE,
        "5",
        "9",
        "-32",
        "degF",
        "deg F",
        "F",
        "° F",
        "℉",
        "fahrenheit"),
    MILLIVOLT_PER_VOLT("mV/V", Dimension.BRIDGE_SIGNAL, "1", "1", "0", "mv/v"),
    MICROVOLT_PER_VOLT("\u00B5V/V", Dimension.BRIDGE_SIGNAL, "1", "1000", "0", "uV/V"),
    COUNTS_PER_KILOGRAM("counts/kg", Dimension.FACTOR, "1", "1", "0"),
    COUNTS_PER_GRAM("counts/g", Dimension.FACTOR, "1000", "1", "0"),
    COUNTS_PER_MILLIVOLT_PER_VOLT("counts/(mV/V)", Dimension.CONVERTER_SCALE, "1", "1", "0"),
    PERCENT_OF_CAPACITY("% of capacity", Dimension.SHARE_OF_CAPACITY, "1", "1", "0", "% of cap"),
    PPM_OF_CAPACITY("ppm of capacity", Dimension.SHARE_OF_CAPACITY, "1", "10000", "0");

    private final String symbol;
    private final Dimension dimension;
    private final BigDecimal numerator;
    private final BigDecimal denominator;
    private final BigDecimal offset;

    @SuppressWarnings("ImmutableEnumChecker") // List.of makes it so; its type does not say
    private final List<String> spellings;

    /**
     * A unit.
     *
     * @param spellings how benches write it, beside the symbol; upper and lower case as listed
     */
    Unit(
        String symbol,
        Dimension dimension,
        String numerator,
        String denominator,
        String offset,
        String... spellings) {
      this.symbol = symbol;
      this.dimension = dimension;
      this.numerator = new BigDecimal(numerator);
      this.denominator = new BigDecimal(denominator);
      this.offset = new BigDecimal(offset);
      this.spellings = List.of(spellings);
    }

    /** The unit as files write it. */
    public String symbol() {
      return symbol;
    }

    /** What it measures. */
    public Dimension dimension() {
      return dimension;
    }

    /** A value in this unit, in another unit of the same dimension, rounded once. */
    public double to(Unit other, BigDecimal value) {
      if (dimension != other.dimension) {
        throw new IllegalArgumentException(symbol + " cannot be converted to " + other.symbol);
      }
      if (this == other) {
        return value.doubleValue();
      }
      return value
          .add(offset)
          .multiply(numerator)
          .multiply(other.denominator)
          .divide(denominator.multiply(other.numerator), MathContext.DECIMAL128)
          .subtract(other.offset)
          .doubleValue();
    }
  }

  /** A number with a unit of the wanted dimension. */
  public record Quantity(BigDecimal value, Unit unit) {
    /** The value in another unit of the dimension. */
    public double in(Unit other) {
      return unit.to(other, value);
    }
  }

  /** The unit of a dimension that is written so, if there is one. */
  public static Optional<Unit> find(Dimension dimension, String symbol) {
    return units(dimension).stream().filter(u -> u.symbol.equals(symbol)).findFirst();
  }

  /**
   * The unit of a dimension that a bench file means by this spelling, if it can only be one: the
   * symbol itself or another usual spelling of it, such as degC for °C.
   */
  public static Optional<Unit> spelled(Dimension dimension, String spelling) {
    String usual = spelling.replace('\u03BC', '\u00B5').strip();
    return find(dimension, spelling)
        .or(
            () ->
                units(dimension).stream()
                    .filter(u -> u.symbol.equals(usual) || u.spellings.contains(usual))
                    .findFirst());
  }

  /** Units of a dimension, the record's own first. */
  public static List<Unit> units(Dimension dimension) {
    return Arrays.stream(Unit.values()).filter(u -> u.dimension == dimension).toList();
  }

  /** For messages: {@code kg, g, lb, oz or N}. */
  public static String symbols(Dimension dimension) {
    String all = String.join(", ", units(dimension).stream().map(Unit::symbol).toList());
    return all.replaceFirst(", ([^,]*)$", " or $1");
  }

  /**
   * A number in digits, with a decimal point or none, and with or without an exponent. No grouping
   * marks, no decimal comma, no words.
   */
  public static Optional<BigDecimal> number(String text) {
    return nearest(text).isPresent() ? Optional.of(new BigDecimal(text)) : Optional.empty();
  }

  /** The same, rounded once. */
  public static OptionalDouble nearest(String text) {
    boolean number = text.length() <= LONGEST && NUMBER_ALONE.matcher(text).matches();
    double value = number ? Double.parseDouble(text) : Double.NaN;
    return Double.isFinite(value) ? OptionalDouble.of(value) : OptionalDouble.empty();
  }

  /**
   * The same as a person types it, with a decimal comma too; {@code 1,234} can mean two numbers.
   */
  public static OptionalDouble typed(String text) {
    return text.indexOf(',') >= 0 && canBeThousands(text)
        ? OptionalDouble.empty()
        : nearest(text.strip().replace(',', '.'));
  }

  /** Whether the only mark of a number can stand between thousands as well as before decimals. */
  public static boolean canBeThousands(String text) {
    return EITHER.matcher(text.strip()).matches();
  }

  /** Reads a number with its unit, such as {@code 1.9 mV/V}; a reason has no place yet. */
  public static Result<Quantity> quantity(String text, Dimension dimension) {
    String example = "write a number, a space and " + symbols(dimension);
    if (number(text.strip()).isPresent()) {
      return refused(Code.UNIT_OF_MEASURE_UNKNOWN, "\"" + text + "\" has no unit; " + example);
    }
    Matcher parts = QUANTITY.matcher(text.strip());
    Optional<BigDecimal> value = parts.matches() ? number(parts.group(1)) : Optional.empty();
    if (value.isEmpty() || parts.group(2).isEmpty()) {
      return refused(Code.NOT_A_NUMBER, "\"" + text + "\" is not a quantity; " + example);
    }
    String symbol = parts.group(3);
    Optional<Unit> unit = find(dimension, symbol);
    if (unit.isEmpty()) {
      return refused(
          Code.UNIT_OF_MEASURE_UNKNOWN,
          "\"%s\" in \"%s\" is no unit of %s; %s",
          symbol,
          text,
          dimension.words,
          example);
    }
    return Result.of(new Quantity(value.get(), unit.get()));
  }

  private static Result<Quantity> refused(Code code, String why, Object... values) {
    return Result.refused(code, "", DataIssue.say(why, values));
  }

  /** A number in plain digits that reads back as the same double. */
  public static String plain(double value) {
    BigDecimal shortest = new BigDecimal(Double.toString(value)).stripTrailingZeros();
    return shortest.signum() == 0 ? "0" : shortest.toPlainString();
  }

  /** The same; empty where there is none. */
  public static String plain(OptionalDouble value) {
    return value.isPresent() ? plain(value.getAsDouble()) : "";
  }
}
