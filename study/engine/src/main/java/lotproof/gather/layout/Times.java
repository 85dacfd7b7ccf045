package lotproof.gather.layout;

import java.time.DateTimeException;
import java.time.LocalDate;
import java.time.LocalDateTime;
import java.time.LocalTime;
import java.time.format.DateTimeFormatter;
import java.time.format.DateTimeFormatterBuilder;
import java.time.format.ResolverStyle;
import java.time.temporal.ChronoField;
import java.time.temporal.TemporalAccessor;
import java.time.temporal.TemporalQueries;
import java.time.temporal.TemporalQuery;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import lotproof.gather.layout.Question.Choice;
import lotproof.gather.tables.Setting;
import lotproof.study.DataIssue.Code;
import lotproof.study.Result;

/**
 * How times are read in one file. In dates such as 03/04/2026 the order of day and month is that of
 * a date in the file that leaves no doubt, or what a person said.
 */
public final class Times {
  private static final Pattern BETWEEN = Pattern.compile("(?<=[0-9]{2})[T, ]+(?=[0-9])");
  private static final Pattern POINTS = Pattern.compile("[0-9]{1,2}\\.[0-9]{1,2}\\.[0-9]{4}\\b");
  private static final TemporalQuery<LocalDate> DATE = TemporalQueries.localDate();
  private static final TemporalQuery<LocalTime> TIME = TemporalQueries.localTime();
  private static final Times DAY_FIRST = new Times("[d-M-uuuu][d/M/uuuu][d.M.uuuu]");
  private static final Times MONTH_FIRST = new Times("[M-d-uuuu][M/d/uuuu][M.d.uuuu]");

  private final DateTimeFormatter format;

  /** Dates with the year first or last, and behind them or alone a time of day. */
  private Times(String yearLast) {
    this.format =
        new DateTimeFormatterBuilder()
            .parseCaseInsensitive()
            .appendPattern("[uuuu-M-d][uuuu/M/d][uuuu.M.d]" + yearLast + "[ ]")
            .appendPattern("[h:mm[:ss[")
            .appendFraction(ChronoField.NANO_OF_SECOND, 1, 9, true)
            .appendPattern("]][ ]a][H:mm[:ss[")
            .appendFraction(ChronoField.NANO_OF_SECOND, 1, 9, true)
            .appendPattern("]]]")
            .toFormatter(Locale.ROOT)
            .withResolverStyle(ResolverStyle.STRICT);
  }

  /** Looks at what a date shows about the order; the first way is the month first. */
  static void look(Evidence evidence, String text, int line, String column) {
    if (evidence.isFirst().isEmpty()) {
      Optional<LocalDate> month = MONTH_FIRST.parse(text).map(found -> found.query(DATE));
      Optional<LocalDate> day = DAY_FIRST.parse(text).map(found -> found.query(DATE));
      // nobody parts month, day and year by points: common practice, no source
      if (POINTS.matcher(text).lookingAt()) {
        evidence.take(false, true, text, line, column);
      } else if (!month.equals(day)) {
        evidence.take(month.isPresent(), day.isPresent(), text, line, column);
      }
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
    boolean monthFirst =
        context
            .told(Setting.DATES)
            .map("month-first"::equals)
            .orElse(evidence.isFirst().orElse(false));
    if (evidence.isFirst().isPresent() || context.told(Setting.DATES).isPresent()) {
      context.fact("dates", monthFirst ? "month first" : "day first");
    }
    return monthFirst ? MONTH_FIRST : DAY_FIRST;
  }

  /**
   * A date that a person types, with a time of day or without one, as files write it: 2026-03-05 or
   * 2026-03-05T16:10. Refused where it is none, or where day and month can be exchanged.
   */
  public static Result<String> typed(String text) {
    List<String> found =
        Stream.of(DAY_FIRST, MONTH_FIRST)
            .filter(times -> times == DAY_FIRST || !POINTS.matcher(text).lookingAt())
            .flatMap(times -> times.iso(text.strip()).stream())
            .distinct()
            .toList();
    return found.size() == 1
        ? Result.of(found.get(0))
        : Result.refused(
            Code.VALUE_INVALID,
            "",
            "\"%s\" is %s; write %s"
                .formatted(
                    text,
                    found.isEmpty() ? "no date" : "a date that can be read in two ways",
                    found.isEmpty()
                        ? "2026-03-05 or \"2026-03-05 16:10\""
                        : String.join(" or ", found)));
  }

  private Optional<String> iso(String text) {
    return read(text).map(String::valueOf).or(() -> day(text).map(String::valueOf));
  }

  /** A time with its date. */
  Optional<LocalDateTime> read(String text) {
    return parse(text)
        .filter(found -> found.query(DATE) != null && found.query(TIME) != null)
        .map(LocalDateTime::from);
  }

  /** A day alone. */
  Optional<LocalDate> day(String text) {
    return parse(text).filter(found -> found.query(TIME) == null).map(found -> found.query(DATE));
  }

  /** A time of day alone. */
  static Optional<LocalTime> clock(String text) {
    return DAY_FIRST
        .parse(text)
        .filter(found -> found.query(DATE) == null)
        .map(found -> found.query(TIME));
  }

  private Optional<TemporalAccessor> parse(String text) {
    try {
      return Optional.of(format.parse(BETWEEN.matcher(text).replaceFirst(" ").replace(',', '.')));
    } catch (DateTimeException e) {
      // There is no such time; the caller names the text.
      return Optional.empty();
    }
  }
}
