package lotproof.app;

import java.util.Locale;
import java.util.Objects;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.function.Function;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import lotproof.gather.capture.CaptureFormat;
import lotproof.gather.capture.CaptureFormat.ClockUnit;
import lotproof.gather.capture.CaptureFormat.Coding;
import lotproof.gather.capture.CaptureFormat.Radix;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Option;

/** What a person can say about captures. */
final class CaptureOptions {
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
  private String radix = "auto";

  @Option(
      names = "--coding",
      paramLabel = "CODING",
      description = "what a code means: unsigned, twos-complement or offset-binary")
  private String coding = "auto";

  @Option(names = "--bits", paramLabel = "N", description = "width of a code, such as 24")
  private @Nullable Integer bits;

  @Option(
      names = "--clock",
      paramLabel = "UNIT",
      description = "unit of the clock: s, ms or us; none leaves it out")
  private String clock = "auto";

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

  /**
   * All of it.
   *
   * @param separator what separates columns, in a word; empty when nothing was said
   */
  CaptureFormat format(String separator) {
    try {
      return new CaptureFormat(
          mark(separator),
          Optional.ofNullable(valueColumn),
          Optional.ofNullable(timeColumn),
          word("--radix", radix, Radix.values(), Radix::word),
          word("--coding", coding, Coding.values(), Coding::word),
          bits == null ? OptionalInt.empty() : OptionalInt.of(bits),
          word("--clock", clock, ClockUnit.values(), ClockUnit::word),
          clockBits == null ? OptionalInt.empty() : OptionalInt.of(clockBits),
          rate == null ? OptionalDouble.empty() : OptionalDouble.of(rate));
    } catch (IllegalArgumentException e) {
      throw new UnusableException(Objects.requireNonNullElse(e.getMessage(), "wrong option"));
    }
  }

  private static Optional<Character> mark(String separator) {
    return switch (separator.toLowerCase(Locale.ROOT)) {
      case "" -> Optional.empty();
      case "comma", "," -> Optional.of(',');
      case "semicolon", ";" -> Optional.of(';');
      case "tab" -> Optional.of('\t');
      case "space", " " -> Optional.of(' ');
      case "none" -> Optional.of('\0');
      default ->
          throw new UnusableException(
              "--separator is comma, semicolon, tab, space or none, not \"" + separator + "\"");
    };
  }

  private static <T> T word(String option, String given, T[] values, Function<T, String> name) {
    return Stream.of(values)
        .filter(value -> name.apply(value).equals(given.toLowerCase(Locale.ROOT)))
        .findFirst()
        .orElseThrow(
            () ->
                new UnusableException(
                    option
                        + " is one of "
                        + Stream.of(values).map(name).collect(Collectors.joining(", "))
                        + ", not \""
                        + given
                        + "\""));
  }
}
