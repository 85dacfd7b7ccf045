package lotproof.gather.capture;

import java.util.EnumMap;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.function.Function;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import lotproof.folder.text.UnitsOfMeasure;
import lotproof.gather.capture.CaptureFormat.ClockUnit;
import lotproof.gather.capture.CaptureFormat.Coding;
import lotproof.gather.capture.CaptureFormat.Mark;
import lotproof.gather.capture.CaptureFormat.Radix;
import lotproof.gather.tables.Mapping;
import lotproof.gather.tables.Setting;

/** What a person says about captures as settings of a mapping, and back. */
public final class CaptureSettings {
  private static final Map<String, Character> MARKS =
      Map.of("comma", ',', "semicolon", ';', "tab", '\t', "space", ' ', "none", '\0');

  private CaptureSettings() {}

  /**
   * The format that a mapping says.
   *
   * @throws IllegalArgumentException with the reason when values are impossible or contradict
   */
  public static CaptureFormat format(Mapping mapping) {
    return new CaptureFormat(
        mapping.setting(Setting.CAPTURE_SEPARATOR).map(MARKS::get),
        mapping.setting(Setting.VALUE_COLUMN),
        mapping.setting(Setting.TIME_COLUMN),
        word(mapping, Setting.RADIX, Radix.values(), Radix::word).orElse(Radix.AUTO),
        word(mapping, Setting.CODING, Coding.values(), Coding::word).orElse(Coding.AUTO),
        whole(mapping, Setting.BITS),
        word(mapping, Setting.CLOCK, ClockUnit.values(), ClockUnit::word).orElse(ClockUnit.AUTO),
        whole(mapping, Setting.CLOCK_BITS),
        rate(mapping),
        word(mapping, Setting.CAPTURE_MARK, Mark.values(), Mark::word).orElse(Mark.AUTO));
  }

  private static <T> Optional<T> word(
      Mapping mapping, Setting setting, T[] values, Function<T, String> name) {
    return mapping
        .setting(setting)
        .flatMap(said -> Stream.of(values).filter(v -> name.apply(v).equals(said)).findFirst());
  }

  private static OptionalInt whole(Mapping mapping, Setting setting) {
    Optional<String> said = mapping.setting(setting);
    if (said.isEmpty()) {
      return OptionalInt.empty();
    }
    if (!said.get().matches("[0-9]{1,4}")) {
      throw new IllegalArgumentException(
          setting.key() + " must be a whole number, was " + said.get());
    }
    return OptionalInt.of(Integer.parseInt(said.get()));
  }

  private static OptionalDouble rate(Mapping mapping) {
    Optional<String> said = mapping.setting(Setting.RATE);
    if (said.isEmpty()) {
      return OptionalDouble.empty();
    }
    return OptionalDouble.of(
        UnitsOfMeasure.number(said.get())
            .orElseThrow(
                () -> new IllegalArgumentException("rate must be a number, was " + said.get()))
            .doubleValue());
  }

  /** What was said, setting by setting; nothing of what is read from the file. */
  public static Map<Setting, String> said(CaptureFormat format) {
    Map<Setting, String> said = new EnumMap<>(Setting.class);
    format
        .separator()
        .ifPresent(
            mark ->
                MARKS.forEach(
                    (name, its) -> {
                      if (its.equals(mark)) {
                        said.put(Setting.CAPTURE_SEPARATOR, name);
                      }
                    }));
    format.valueColumn().ifPresent(column -> said.put(Setting.VALUE_COLUMN, column));
    format.timeColumn().ifPresent(column -> said.put(Setting.TIME_COLUMN, column));
    if (format.radix() != Radix.AUTO) {
      said.put(Setting.RADIX, format.radix().word());
    }
    if (format.coding() != Coding.AUTO) {
      said.put(Setting.CODING, format.coding().word());
    }
    format.bits().ifPresent(bits -> said.put(Setting.BITS, String.valueOf(bits)));
    if (format.clock() != ClockUnit.AUTO) {
      said.put(Setting.CLOCK, format.clock().word());
    }
    format.clockBits().ifPresent(bits -> said.put(Setting.CLOCK_BITS, String.valueOf(bits)));
    format.samplesPerSecond().ifPresent(rate -> said.put(Setting.RATE, UnitsOfMeasure.plain(rate)));
    if (format.mark() != Mark.AUTO) {
      said.put(Setting.CAPTURE_MARK, format.mark().word());
    }
    return said;
  }

  /** The format that such a line says; empty when it is none. */
  static Optional<CaptureFormat> ofWords(String words) {
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
      CaptureFormat format = format(mapping);
      return words(format).equals(words) ? Optional.of(format) : Optional.empty();
    } catch (IllegalArgumentException e) {
      return Optional.empty();
    }
  }

  /** What was said, in one line; empty when nothing was. */
  static String words(CaptureFormat format) {
    return said(format).entrySet().stream()
        .map(e -> e.getKey().key() + " " + e.getValue())
        .collect(Collectors.joining(", "));
  }
}
