package lotproof.gather.capture;

import java.util.Arrays;
import java.util.Collections;
import java.util.EnumSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.Set;
import java.util.TreeMap;
import java.util.stream.Collectors;
import lotproof.folder.text.UnitsOfMeasure;
import lotproof.gather.tables.Mapping;
import lotproof.gather.tables.Separator;
import lotproof.gather.tables.Setting;

/**
 * What a person says about captures; everything left open is read from the file or asked for.
 *
 * @param said setting by setting
 */
public record CaptureFormat(Map<Setting, String> said) {
  /** Nothing is said; all is read from the file. */
  public static final CaptureFormat AS_FOUND = new CaptureFormat(Map.of());

  private static final Set<Setting> SETTINGS =
      EnumSet.range(Setting.CAPTURE_SEPARATOR, Setting.CAPTURE_MARK);

  /** What a code means. */
  public enum Coding {
    /** Decimal numbers mean what they say; for hexadecimal ones it is asked. */
    AUTO,
    /** From 0 up. */
    UNSIGNED,
    /** Codes from half of the range on are negative. */
    TWOS_COMPLEMENT,
    /** Half of the range is zero. */
    OFFSET_BINARY;

    /** The word for it in options. */
    public String word() {
      return name().toLowerCase(Locale.ROOT).replace('_', '-');
    }
  }

  /** Unit of a clock that is a plain number. */
  public enum ClockUnit {
    /** As the header shows without doubt. */
    AUTO("auto", 0),
    /** The clock is left out. */
    NONE("none", 0),
    SECOND("s", 1, "sec", "seconds"),
    MILLISECOND("ms", 1e-3, "millis", "milliseconds"),
    MICROSECOND("us", 1e-6, "micros", "microseconds");

    private final String word;
    private final double seconds;

    @SuppressWarnings("ImmutableEnumChecker") // List.of makes it so; its type does not say
    private final List<String> spellings;

    ClockUnit(String word, double seconds, String... spellings) {
      this.word = word;
      this.seconds = seconds;
      this.spellings = List.of(spellings);
    }

    /** The unit that a header spells so, in lower case. */
    static Optional<ClockUnit> spelled(String text) {
      return Arrays.stream(values())
          .filter(unit -> unit.seconds > 0)
          .filter(unit -> unit.word.equals(text) || unit.spellings.contains(text))
          .findFirst();
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
    format.check();
    return format;
  }

  private void check() {
    within("bits", bits(), 2);
    within("clock bits", clockBits(), 8);
    OptionalDouble rate = samplesPerSecond();
    if (rate.isPresent() && !(rate.getAsDouble() > 0 && rate.getAsDouble() <= 1e9)) {
      throw new IllegalArgumentException(
          "samples per second must lie above 0 and up to 1e9, was " + rate.getAsDouble());
    }
    boolean coded = coding() == Coding.TWOS_COMPLEMENT || coding() == Coding.OFFSET_BINARY;
    if (coded && bits().isEmpty()) {
      throw new IllegalArgumentException(
          "the coding %s needs the width of a code; give --bits, such as 24"
              .formatted(coding().word()));
    }
  }

  private static void within(String name, OptionalInt bits, int least) {
    if (bits.isPresent() && !(bits.getAsInt() >= least && bits.getAsInt() <= 48)) {
      throw new IllegalArgumentException(
          "%s must lie in %s..48, was %s".formatted(name, least, bits.getAsInt()));
    }
  }

  private Optional<String> get(Setting setting) {
    return Optional.ofNullable(said.get(setting));
  }

  /** What separates columns; the zero character where a line is one column. */
  Optional<Character> separator() {
    return get(Setting.CAPTURE_SEPARATOR)
        .map(word -> Separator.ofWord(word).map(Separator::mark).orElse('\0'));
  }

  /** Header or position, counted from 1, of the column with the samples. */
  Optional<String> valueColumn() {
    return get(Setting.VALUE_COLUMN);
  }

  /** Header or position, counted from 1, of the column with the clock. */
  Optional<String> timeColumn() {
    return get(Setting.TIME_COLUMN);
  }

  /** Whether codes are hexadecimal. */
  Optional<Boolean> hexadecimal() {
    return get(Setting.RADIX).map("hex"::equals);
  }

  Coding coding() {
    return get(Setting.CODING)
        .flatMap(
            word -> Arrays.stream(Coding.values()).filter(c -> c.word().equals(word)).findAny())
        .orElse(Coding.AUTO);
  }

  /** Width of a code; with a coding other than as written it is given. */
  OptionalInt bits() {
    return whole(Setting.BITS);
  }

  ClockUnit clock() {
    return get(Setting.CLOCK)
        .flatMap(
            word -> Arrays.stream(ClockUnit.values()).filter(c -> c.word.equals(word)).findAny())
        .orElse(ClockUnit.AUTO);
  }

  /** Width of a counter that wraps. */
  OptionalInt clockBits() {
    return whole(Setting.CLOCK_BITS);
  }

  /** Rate of a capture without clock. */
  OptionalDouble samplesPerSecond() {
    return get(Setting.RATE).stream()
        .mapToDouble(
            text ->
                UnitsOfMeasure.number(text)
                    .orElseThrow(
                        () -> new IllegalArgumentException("rate must be a number, was " + text))
                    .doubleValue())
        .findFirst();
  }

  /** Whether points and commas within a number stand between thousands. */
  Optional<Boolean> grouped() {
    return get(Setting.CAPTURE_MARK).map("thousands"::equals);
  }

  private OptionalInt whole(Setting setting) {
    Optional<String> text = get(setting);
    if (text.filter(it -> !it.matches("[0-9]{1,4}")).isPresent()) {
      throw new IllegalArgumentException(
          "%s must be a whole number, was %s".formatted(setting.key(), text.get()));
    }
    return text.stream().mapToInt(Integer::parseInt).findFirst();
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
