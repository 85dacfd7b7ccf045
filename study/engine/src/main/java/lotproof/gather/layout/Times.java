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
  private static final Pattern ISO = Pattern.compile("(\\d{4})-(\\d{2})-(\\d{2})(?:[T ]+(\\d.*))?");
  private static final Pattern YEAR_FIRST =
      Pattern.compile("(\\d{4})[/.](\\d{1,2})[/.](\\d{1,2})(?:[T, ]+(\\d.*))?");
  private static final Pattern YEAR_LAST =
      Pattern.compile("(\\d{1,2})([./-])(\\d{1,2})\\2(\\d{4})(?:[T, ]+(\\d.*))?");
  private static final Pattern CLOCK =
      Pattern.compile("(\\d{1,2}):(\\d{2})(?::(\\d{2})(?:[.,](\\d{1,9}))?)?(?:\\s*([AaPp][Mm]))?");

  private final boolean monthFirst;

  private Times(boolean monthFirst) {
    this.monthFirst = monthFirst;
  }

  /** Looks at what a date shows about the order; true stands for the month first. */
  static void look(Evidence evidence, String text, int line, String column) {
    Matcher date = YEAR_LAST.matcher(text);
    if (evidence.isSettled() || !date.matches()) {
      return;
    }
    int first = Integer.parseInt(date.group(1));
    int second = Integer.parseInt(date.group(3));
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
    try {
      Matcher iso = ISO.matcher(text);
      if (iso.matches()) {
        return join(date(iso, 1, 2, 3), iso.group(4));
      }
      Matcher yearFirst = YEAR_FIRST.matcher(text);
      if (yearFirst.matches()) {
        return join(date(yearFirst, 1, 2, 3), yearFirst.group(4));
      }
      Matcher yearLast = YEAR_LAST.matcher(text);
      if (yearLast.matches()) {
        return join(
            monthFirst ? date(yearLast, 4, 1, 3) : date(yearLast, 4, 3, 1), yearLast.group(5));
      }
    } catch (DateTimeException e) {
      // There is no such day or time of day; the caller names the text.
    }
    return Optional.empty();
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

  private static LocalDate date(Matcher parts, int year, int month, int day) {
    return LocalDate.of(
        Integer.parseInt(parts.group(year)),
        Integer.parseInt(parts.group(month)),
        Integer.parseInt(parts.group(day)));
  }

  private static Optional<LocalDateTime> join(
      LocalDate date, @org.jspecify.annotations.Nullable String clock) {
    return clock == null ? Optional.empty() : clock(clock.strip()).map(date::atTime);
  }
}
