package lotproof.gather.capture;

import java.math.BigDecimal;
import java.util.Arrays;
import java.util.Collections;
import java.util.EnumSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.Set;
import java.util.TreeMap;
import java.util.stream.Collectors;
import lotproof.folder.text.UnitsOfMeasure;
import lotproof.gather.tables.Mapping;
import lotproof.gather.tables.RowNumbers;
import lotproof.gather.tables.Separator;
import lotproof.gather.tables.Setting;
import lotproof.study.Keyed;

/**
 * What a person says about captures; everything left open is read from the file or asked for.
 *
 * @param said setting by setting
 */
public record CaptureFormat(Map<Setting, String> said) {
  /** Nothing is said; all is read from the file. */
  public static final CaptureFormat AS_FOUND = new CaptureFormat(Map.of());

  /** What a capture may leave open about itself. */
  public static final Set<Setting> SETTINGS =
      Collections.unmodifiableSet(EnumSet.range(Setting.CAPTURE_SEPARATOR, Setting.CAPTURE_MARK));

  private static final int MOST_BITS = 48;
  private static final double MOST_RATE = 1e9;

  /** What a code means. */
  public enum Coding implements Keyed {
    /** Decimal numbers mean what they say; for hexadecimal ones it is asked. */
    AUTO,
    /** From 0 up. */
    UNSIGNED,
    /** Codes from half of the range on are negative. */
    TWOS_COMPLEMENT,
    /** Half of the range is zero. */
    OFFSET_BINARY
  }

  /** Unit of a clock that is a plain number. */
  public enum ClockUnit implements Keyed {
    /** As the header shows without doubt. */
    AUTO(0, "auto"),
    /** The clock is left out. */
    NONE(0, "none"),
    SECOND(1, "s", "sec", "seconds"),
    MILLISECOND(1e-3, "ms", "millis", "milliseconds"),
    MICROSECOND(1e-6, "us", "micros", "microseconds");

    private final double seconds;

    @SuppressWarnings("ImmutableEnumChecker") // List.of makes it so; its type does not say
    private final List<String> spellings;

    ClockUnit(double seconds, String... spellings) {
      this.seconds = seconds;
      this.spellings = List.of(spellings);
    }

    @Override
    public String key() {
      return spellings.get(0);
    }

    /** Its length; 0 where it is none. */
    public double seconds() {
      return seconds;
    }

    /** The unit that a header spells so, in lower case. */
    static Optional<ClockUnit> spelled(String text) {
      return Arrays.stream(values())
          .filter(unit -> unit.seconds > 0 && unit.spellings.contains(text))
          .findFirst();
    }
  }

  public CaptureFormat {
    said = Collections.unmodifiableMap(new TreeMap<>(said));
  }

  /**
   * The format that a mapping says.
   *
   * @throws IllegalArgumentException with the reason when values are impossible or contradict
   */
  public static CaptureFormat of(Mapping mapping) {
    Map<Setting, String> said = new TreeMap<>(mapping.settings());
    said.keySet().retainAll(SETTINGS);
    CaptureFormat format = new CaptureFormat(said);
    boolean coded = !Set.of(Coding.AUTO, Coding.UNSIGNED).contains(format.coding());
    if (coded && format.bits().isEmpty()) {
      throw new IllegalArgumentException(
          "the coding %s needs the width of a code; give --bits, such as 24"
              .formatted(format.coding().key()));
    }
    var unused = List.of(format.clockBits(), format.samplesPerSecond(), format.firstLine());
    return format;
  }

  /** This and what another one says, which counts where both do. */
  public CaptureFormat with(CaptureFormat other) {
    Map<Setting, String> both = new TreeMap<>(said);
    both.putAll(other.said);
    return new CaptureFormat(both);
  }

  /** What was said of one setting. */
  Optional<String> told(Setting setting) {
    return Optional.ofNullable(said.get(setting));
  }

  boolean isTold(Setting setting) {
    return said.containsKey(setting);
  }

  private OptionalInt bits(Setting setting, int least) {
    Optional<String> text = told(setting);
    OptionalInt bits =
        text.filter(it -> it.matches("[0-9]{1,4}")).stream()
            .mapToInt(Integer::parseInt)
            .filter(width -> width >= least && width <= MOST_BITS)
            .findFirst();
    if (text.isPresent() && bits.isEmpty()) {
      throw new IllegalArgumentException(
          "%s must be a whole number in %s..%s, was %s"
              .formatted(setting.key(), least, MOST_BITS, text.get()));
    }
    return bits;
  }

  /** What separates columns; the zero character where a line is one column. */
  Optional<Character> separator() {
    return told(Setting.CAPTURE_SEPARATOR)
        .map(word -> Separator.ofWord(word).map(Separator::mark).orElse('\0'));
  }

  Coding coding() {
    return told(Setting.CODING).flatMap(key -> Keyed.of(Coding.values(), key)).orElse(Coding.AUTO);
  }

  /** Width of a code; with a coding other than as written it is given. */
  OptionalInt bits() {
    return bits(Setting.BITS, 2);
  }

  ClockUnit clock() {
    return told(Setting.CLOCK)
        .flatMap(key -> Keyed.of(ClockUnit.values(), key))
        .orElse(ClockUnit.AUTO);
  }

  /** Width of a counter that wraps. */
  OptionalInt clockBits() {
    return bits(Setting.CLOCK_BITS, 8);
  }

  /** Rate of a capture without clock. */
  OptionalDouble samplesPerSecond() {
    Optional<String> text = told(Setting.RATE);
    OptionalDouble rate =
        text.flatMap(UnitsOfMeasure::number).stream()
            .mapToDouble(BigDecimal::doubleValue)
            .filter(value -> value > 0 && value <= MOST_RATE)
            .findFirst();
    if (text.isPresent() && rate.isEmpty()) {
      throw new IllegalArgumentException(
          "rate must be a number above 0 and up to 1e9, was " + text.get());
    }
    return rate;
  }

  /** The first line of the file that belongs to the capture, counted from 1. */
  int firstLine() {
    return told(Setting.LINES).map(lines -> RowNumbers.range(lines)[0]).orElse(1);
  }

  /** The same with lines of a log. */
  CaptureFormat ofLines(String lines) {
    return with(new CaptureFormat(Map.of(Setting.LINES, lines)));
  }

  /** Whether points and commas within a number stand between thousands. */
  boolean isGrouped() {
    return told(Setting.CAPTURE_MARK).equals(Optional.of("thousands"));
  }

  /** What was said, in one line; empty when nothing was. */
  String words() {
    return said.entrySet().stream()
        .map(e -> e.getKey().key() + " " + e.getValue())
        .collect(Collectors.joining(", "));
  }

  /** The format that such a line says; empty when it is none. */
  public static Optional<CaptureFormat> ofWords(String words) {
    Mapping mapping = Mapping.none();
    for (String part : words.isEmpty() ? new String[0] : words.split(", ")) {
      String[] said = part.split(" ", 2);
      Optional<Setting> setting = Setting.ofKey(said[0]);
      if (setting.isEmpty() || said.length < 2) {
        return Optional.empty();
      }
      mapping = mapping.with(setting.get(), said[1]);
    }
    try {
      return Optional.of(of(mapping)).filter(format -> format.words().equals(words));
    } catch (IllegalArgumentException e) {
      return Optional.empty();
    }
  }
}
