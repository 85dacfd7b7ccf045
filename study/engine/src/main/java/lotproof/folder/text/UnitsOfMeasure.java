package lotproof.folder.text;

import java.math.BigDecimal;
import java.math.MathContext;
import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import lotproof.study.DataIssue;
import lotproof.study.DataIssue.Code;
import lotproof.study.Result;

/**
 * The one table of units of measure that files may use, and the reading of quantities such as
 * {@code 50 kg}. Conversions are done in decimal and rounded once, to the nearest double.
 *
 * <p>Sources of the factors: pound 0.45359237 kg exactly (international yard and pound agreement,
 * 1959); newton by standard gravity 9.80665 m/s² exactly (3rd CGPM, 1901), which is the gravity of
 * no particular bench; degree Fahrenheit by its definition (°F - 32) · 5/9.
 */
public final class UnitsOfMeasure {
  private static final String NUMBER =
      "[+-]?(?:[0-9]+(?:\\.[0-9]*)?|\\.[0-9]+)(?:[eE][+-]?[0-9]{1,3})?";
  private static final Pattern NUMBER_ALONE = Pattern.compile(NUMBER);
  private static final Pattern QUANTITY = Pattern.compile("(" + NUMBER + ")(\\s*)(\\D.*)");

  /** How benches write units, beside the symbols; upper and lower case as listed. */
  private static final Map<String, Unit> SPELLINGS = spellings();

  private UnitsOfMeasure() {}

  private static Map<String, Unit> spellings() {
    Map<String, Unit> all = new HashMap<>();
    for (String kilogram : List.of("Kg", "KG", "kgs", "kilogram", "kilograms")) {
      all.put(kilogram, Unit.KILOGRAM);
    }
    for (String gram : List.of("gr", "gram", "grams")) {
      all.put(gram, Unit.GRAM);
    }
    for (String pound : List.of("lbs", "LB", "lbm", "pound", "pounds")) {
      all.put(pound, Unit.POUND);
    }
    for (String newton : List.of("newton", "newtons")) {
      all.put(newton, Unit.NEWTON);
    }
    for (String counts : List.of("count", "Counts", "cts", "digits", "LSB")) {
      all.put(counts, Unit.COUNTS);
    }
    for (String celsius : List.of("degC", "deg C", "C", "\u00B0 C", "\u2103", "celsius")) {
      all.put(celsius, Unit.CELSIUS);
    }
    for (String fahrenheit : List.of("degF", "deg F", "F", "\u00B0 F", "\u2109", "fahrenheit")) {
      all.put(fahrenheit, Unit.FAHRENHEIT);
    }
    all.put("\u00B5V/V", Unit.MICROVOLT_PER_VOLT);
    all.put("uV/V", Unit.MICROVOLT_PER_VOLT);
    all.put("\u03BCV/V", Unit.MICROVOLT_PER_VOLT);
    all.put("mv/v", Unit.MILLIVOLT_PER_VOLT);
    all.put("% of cap", Unit.PERCENT_OF_CAPACITY);
    return Map.copyOf(all);
  }

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
    KILOGRAM("kg", Dimension.MASS, "1", "1", "0"),
    GRAM("g", Dimension.MASS, "1", "1000", "0"),
    POUND("lb", Dimension.MASS, "0.45359237", "1", "0"),
    NEWTON("N", Dimension.MASS, "1", "9.80665", "0"),
    COUNTS("counts", Dimension.OUTPUT, "1", "1", "0"),
    CELSIUS("°C", Dimension.TEMPERATURE, "1", "1", "0"),
    FAHRENHEIT("°F", Dimension.TEMPERATURE, "5", "9", "-32"),
    MILLIVOLT_PER_VOLT("mV/V", Dimension.BRIDGE_SIGNAL, "1", "1", "0"),
    MICROVOLT_PER_VOLT("µV/V", Dimension.BRIDGE_SIGNAL, "1", "1000", "0"),
    COUNTS_PER_KILOGRAM("counts/kg", Dimension.FACTOR, "1", "1", "0"),
    COUNTS_PER_GRAM("counts/g", Dimension.FACTOR, "1000", "1", "0"),
    COUNTS_PER_MILLIVOLT_PER_VOLT("counts/(mV/V)", Dimension.CONVERTER_SCALE, "1", "1", "0"),
    PERCENT_OF_CAPACITY("% of capacity", Dimension.SHARE_OF_CAPACITY, "1", "1", "0"),
    PPM_OF_CAPACITY("ppm of capacity", Dimension.SHARE_OF_CAPACITY, "1", "10000", "0");

    private final String symbol;
    private final Dimension dimension;
    private final BigDecimal numerator;
    private final BigDecimal denominator;
    private final BigDecimal offset;

    Unit(String symbol, Dimension dimension, String numerator, String denominator, String offset) {
      this.symbol = symbol;
      this.dimension = dimension;
      this.numerator = new BigDecimal(numerator);
      this.denominator = new BigDecimal(denominator);
      this.offset = new BigDecimal(offset);
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
    Optional<Unit> unit = find(dimension, spelling);
    if (unit.isPresent()) {
      return unit;
    }
    Unit other = SPELLINGS.get(spelling.replace('\u03BC', '\u00B5').strip());
    return Optional.ofNullable(other).filter(u -> u.dimension == dimension);
  }

  /** Units of a dimension, the record's own first. */
  public static List<Unit> units(Dimension dimension) {
    return Arrays.stream(Unit.values()).filter(u -> u.dimension == dimension).toList();
  }

  /** For messages: {@code kg, g, lb or N}. */
  public static String symbols(Dimension dimension) {
    List<String> all = units(dimension).stream().map(Unit::symbol).toList();
    String last = all.get(all.size() - 1);
    return all.size() == 1
        ? last
        : all.stream().limit(all.size() - 1L).collect(Collectors.joining(", ")) + " or " + last;
  }

  /**
   * A number in digits, with a decimal point or none, and with or without an exponent. No grouping
   * marks, no decimal comma, no words.
   */
  public static Optional<BigDecimal> number(String text) {
    if (!NUMBER_ALONE.matcher(text).matches()) {
      return Optional.empty();
    }
    BigDecimal value = new BigDecimal(text);
    return Double.isFinite(value.doubleValue()) ? Optional.of(value) : Optional.empty();
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
          "\"%s\" in \"%s\" is no unit of %s; %s"
              .formatted(symbol, text, dimension.words, example));
    }
    return Result.of(new Quantity(value.get(), unit.get()));
  }

  private static Result<Quantity> refused(Code code, String why) {
    return Result.refused(DataIssue.error(code, "", 0, "", "", why));
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
