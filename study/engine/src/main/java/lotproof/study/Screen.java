package lotproof.study;

import java.math.BigDecimal;
import java.util.Arrays;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import lotproof.study.Characteristic.Limits;

/**
 * A test that production makes on every cell or on every board before it ships, so that units which
 * fail it reach no buyer.
 *
 * @param limits what a unit must keep, in the characteristic's unit of measure
 */
public record Screen(Decision.Target target, Characteristic characteristic, Limits limits) {
  /** The cause that belongs to screens and to no exclusion. */
  public static final String CAUSE = "production screen";

  private static final String NUMBER = "[+-]?[0-9]+(?:\\.[0-9]+)?(?:[eE][+-]?[0-9]{1,3})?";
  private static final Pattern LIMITS =
      Pattern.compile(
          ("(?:at most (?<most>N)|at least (?<least>N)|between (?<from>N) and (?<to>N))"
                  + " (?<unit>.+)")
              .replace("N", NUMBER));

  public Screen {
    if (target == Decision.Target.RUN) {
      throw new IllegalArgumentException("a screen tests cells or boards, not runs");
    }
  }

  /** The screen that a decision states, if it states one. */
  public static Optional<Screen> of(Decision decision) {
    if (decision.action() != Decision.Action.SCREENED || decision.target() == Decision.Target.RUN) {
      return Optional.empty();
    }
    return characteristic(decision)
        .flatMap(
            c ->
                limits(decision.value().orElse(""), c.unit())
                    .map(limits -> new Screen(decision.target(), c, limits)));
  }

  /** What a screen decision tests, if it names a characteristic. */
  public static Optional<Characteristic> characteristic(Decision decision) {
    return Keyed.of(Characteristic.values(), decision.field().orElse(""));
  }

  /** Why a decision states no screen, in words that say what would be right. */
  public static String whyNot(Decision decision) {
    if (decision.target() == Decision.Target.RUN) {
      return "production screens cells or boards, not runs";
    }
    Optional<Characteristic> tested = characteristic(decision);
    if (tested.isEmpty()) {
      return "\""
          + decision.field().orElse("")
          + "\" is no characteristic that the study measures; write one of: "
          + Arrays.stream(Characteristic.values())
              .map(Characteristic::key)
              .collect(Collectors.joining(", "));
    }
    String unit = tested.get().unit();
    return "\""
        + decision.value().orElse("")
        + "\" states no limits; write: at most 1.5 "
        + unit
        + ", at least 1.5 "
        + unit
        + ", or between 1.5 and 2.5 "
        + unit;
  }

  private static Optional<Limits> limits(String text, String unit) {
    Matcher said = LIMITS.matcher(text.strip());
    if (!said.matches() || !said.group("unit").equals(unit)) {
      return Optional.empty();
    }
    try {
      return Optional.of(new Limits(either(said, "least", "from"), either(said, "most", "to")));
    } catch (IllegalArgumentException e) {
      return Optional.empty();
    }
  }

  private static OptionalDouble either(Matcher said, String one, String other) {
    return Optional.ofNullable(said.group(one))
        .or(() -> Optional.ofNullable(said.group(other)))
        .stream()
        .mapToDouble(Double::parseDouble)
        .findFirst();
  }

  /** Whether a unit with this value passes; a value on a limit does. */
  public boolean passes(double value) {
    return value >= limits.lower().orElse(Double.NEGATIVE_INFINITY)
        && value <= limits.upper().orElse(Double.POSITIVE_INFINITY);
  }

  /** For people: {@code noise at most 0.6 g}. */
  public String words() {
    String lower = plain(limits.lower());
    String upper = plain(limits.upper());
    String range =
        lower.isEmpty()
            ? "at most " + upper
            : upper.isEmpty() ? "at least " + lower : "between " + lower + " and " + upper;
    String name = characteristic.title().toLowerCase(Locale.ROOT);
    return name + " " + range + " " + characteristic.unit();
  }

  private static String plain(OptionalDouble limit) {
    return limit.stream()
        .mapToObj(value -> new BigDecimal(Double.toString(value)).stripTrailingZeros())
        .map(BigDecimal::toPlainString)
        .collect(Collectors.joining());
  }
}
