package lotproof.app;

import java.util.Map;
import java.util.Objects;
import lotproof.folder.text.UnitsOfMeasure;
import lotproof.gather.capture.CaptureFormat;
import lotproof.gather.capture.CaptureSettings;
import lotproof.gather.tables.Mapping;
import lotproof.gather.tables.Setting;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Option;

/** What a person can say about captures. */
final class CaptureOptions {
  private static final Map<String, String> MARKS =
      Map.of(",", "comma", ";", "semicolon", "\t", "tab", " ", "space");

  @Option(
      names = "--value-column",
      paramLabel = "COLUMN",
      description = "header or number (from 1) of the column with the samples")
  private @Nullable String valueColumn;

  @Option(
      names = "--time-column",
      paramLabel = "COLUMN",
      description = "header or number of the column with the clock")
  private @Nullable String timeColumn;

  @Option(names = "--radix", paramLabel = "RADIX", description = "decimal or hex")
  private @Nullable String radix;

  @Option(
      names = "--coding",
      paramLabel = "CODING",
      description = "what a code means: unsigned, twos-complement or offset-binary")
  private @Nullable String coding;

  @Option(names = "--bits", paramLabel = "N", description = "width of a code, such as 24")
  private @Nullable Integer bits;

  @Option(
      names = "--clock",
      paramLabel = "UNIT",
      description = "unit of the clock: s, ms or us; none leaves it out")
  private @Nullable String clock;

  @Option(
      names = "--clock-bits",
      paramLabel = "N",
      description = "width of a counter that wraps, such as 16 or 32")
  private @Nullable Integer clockBits;

  @Option(
      names = "--rate",
      paramLabel = "HZ",
      description = "samples per second of a capture without clock")
  private @Nullable Double rate;

  @Option(
      names = "--capture-mark",
      paramLabel = "WHAT",
      description = "what a point or comma within a number is: decimal or thousands")
  private @Nullable String mark;

  /**
   * All of it on top of a mapping.
   *
   * @param separator what separates columns, in a word or as the mark; empty when nothing was said
   */
  Mapping onto(Mapping base, String separator) {
    Mapping mapping = base;
    mapping =
        MappingOptions.with(
            mapping,
            Setting.CAPTURE_SEPARATOR,
            separator.isEmpty() ? null : MARKS.getOrDefault(separator, separator));
    mapping = MappingOptions.with(mapping, Setting.VALUE_COLUMN, valueColumn);
    mapping = MappingOptions.with(mapping, Setting.TIME_COLUMN, timeColumn);
    mapping = MappingOptions.with(mapping, Setting.RADIX, radix);
    mapping = MappingOptions.with(mapping, Setting.CODING, coding);
    mapping = MappingOptions.with(mapping, Setting.BITS, text(bits));
    mapping = MappingOptions.with(mapping, Setting.CLOCK, clock);
    mapping = MappingOptions.with(mapping, Setting.CLOCK_BITS, text(clockBits));
    mapping = MappingOptions.with(mapping, Setting.CAPTURE_MARK, mark);
    return MappingOptions.with(
        mapping, Setting.RATE, rate == null ? null : UnitsOfMeasure.plain(rate));
  }

  private static @Nullable String text(@Nullable Integer number) {
    return number == null ? null : number.toString();
  }

  /** What a mapping says about captures. */
  static CaptureFormat format(Mapping mapping) {
    try {
      return CaptureSettings.format(mapping);
    } catch (IllegalArgumentException e) {
      throw new UnusableException(Objects.requireNonNullElse(e.getMessage(), "wrong option"));
    }
  }
}
