package lotproof.gather.layout;

import java.time.DateTimeException;
import java.time.LocalDate;
import java.time.LocalDateTime;
import java.time.LocalTime;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import lotproof.gather.layout.Question.Choice;
import lotproof.gather.tables.Setting;

/**
 * How times are read in one file. In dates such as 03/04/2026 the order of day and month is that of
 * a date in the file that leaves no doubt, or what a person said.
 */
final class Times {
  private static final Pattern DATE =
      Pattern.compile(
          "(?:(?<year>\\d{4})([-/.])(?<month>\\d{1,2})\\2(?<day>\\d{1,2})"
              + "|(?<first>\\d{1,2})([-/.])(?<second>\\d{1,2})\\6(?<yearLast>\\d{4}))"
              + "(?:[T, ]+(?<clock>\\d.*))?");
  private static final Pattern CLOCK =
      Pattern.compile("(\\d{1,2}):(\\d{2})(?::(\\d{2})(?:[.,](\\d{1,9}))?)?(?:\\s*([AaPp][Mm]))?");

  private final boolean monthFirst;

  private Times(boolean monthFirst) {
    this.monthFirst = monthFirst;
  }

  /** Looks at what a date shows about the order; true stands for the month first. */
  static void look(Evidence evidence, String text, int line, String column) {
    Matcher date = DATE.matcher(text);
    if (evidence.isSettled() || !date.matches() || date.group("first") == null) {
      return;
    }
    int first = Integer.parseInt(date.group("first"));
    int second = Integer.parseInt(date.group("second"));
    if (first > 12 && second <= 12) {
      evidence.settle(false);
    } else if (second > 12 && first <= 12) {
      evidence.settle(true);
    } else if (first != second) {
      evidence.doubt(text, line, column);
    }
  }

  /** How to read a file; where the order is not certain, it is asked. */
  static Times of(Evidence evidence, TableContext context) {
    context.askForWay(
        Setting.DATES,
        evidence.doubt(),
        "date",
        List.of(
            new Choice("day-first", "the day stands before the month"),
            new Choice("month-first", "the month stands before the day")));
    Times times =
        new Times(
            context
                .told(Setting.DATES)
                .map("month-first"::equals)
                .orElse(evidence.way().orElse(false)));
    if (evidence.matters()) {
      context.fact("dates", times.words());
    }
    return times;
  }

  /** The order, for people. */
  String words() {
    return monthFirst ? "month first" : "day first";
  }

  /** A time with its date. */
  Optional<LocalDateTime> read(String text) {
    Matcher date = DATE.matcher(text);
    if (!date.matches() || date.group("clock") == null) {
      return Optional.empty();
    }
    try {
      LocalDate day =
          date.group("year") != null
              ? day(date, "year", "month", "day")
              : monthFirst
                  ? day(date, "yearLast", "first", "second")
                  : day(date, "yearLast", "second", "first");
      return clock(date.group("clock").strip()).map(day::atTime);
    } catch (DateTimeException e) {
      // There is no such day; the caller names the text.
      return Optional.empty();
    }
  }

  private static LocalDate day(Matcher date, String year, String month, String day) {
    return LocalDate.of(
        Integer.parseInt(date.group(year)),
        Integer.parseInt(date.group(month)),
        Integer.parseInt(date.group(day)));
  }

  /** A day alone. */
  Optional<LocalDate> day(String text) {
    return read(text + " 00:00").map(LocalDateTime::toLocalDate);
  }

  /** A time of day alone. */
  static Optional<LocalTime> clock(String text) {
    Matcher clock = CLOCK.matcher(text);
    if (!clock.matches()) {
      return Optional.empty();
    }
    int hour = Integer.parseInt(clock.group(1));
    if (clock.group(5) != null) {
      if (hour < 1 || hour > 12) {
        return Optional.empty();
      }
      boolean afternoon = clock.group(5).toLowerCase(Locale.ROOT).startsWith("p");
      hour = hour % 12 + (afternoon ? 12 : 0);
    }
    int second = clock.group(3) == null ? 0 : Integer.parseInt(clock.group(3));
    String fraction = clock.group(4) == null ? "" : clock.group(4);
    int nano = Integer.parseInt((fraction + "000000000").substring(0, 9));
    try {
      return Optional.of(LocalTime.of(hour, Integer.parseInt(clock.group(2)), second, nano));
    } catch (DateTimeException e) {
      return Optional.empty();
    }
  }
}
