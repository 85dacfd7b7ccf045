package lotproof.gather.layout;

import java.time.DateTimeException;
import java.time.LocalDate;
import java.time.LocalDateTime;
import java.time.LocalTime;
import java.time.format.DateTimeFormatter;
import java.time.format.DateTimeFormatterBuilder;
import java.time.format.ResolverStyle;
import java.time.format.SignStyle;
import java.time.temporal.ChronoField;
import java.time.temporal.TemporalAccessor;
import java.time.temporal.TemporalQueries;
import java.time.temporal.TemporalQuery;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.regex.Pattern;
import lotproof.gather.layout.Question.Choice;
import lotproof.gather.tables.Setting;

/**
 * How times are read in one file. In dates such as 03/04/2026 the order of day and month is that of
 * a date in the file that leaves no doubt, or what a person said.
 */
final class Times {
  private static final Pattern BETWEEN = Pattern.compile("(?<=[0-9]{2})[T, ]+(?=[0-9])");
  private static final DateTimeFormatter CLOCK = strict(clock());
  private static final TemporalQuery<LocalDate> DATE = TemporalQueries.localDate();
  private static final TemporalQuery<LocalTime> TIME = TemporalQueries.localTime();
  private static final Times DAY_FIRST = new Times(false);
  private static final Times MONTH_FIRST = new Times(true);

  private final boolean monthFirst;
  private final DateTimeFormatter format;

  private Times(boolean monthFirst) {
    this.monthFirst = monthFirst;
    DateTimeFormatterBuilder builder = new DateTimeFormatterBuilder().parseCaseInsensitive();
    for (char mark : new char[] {'-', '/', '.'}) {
      builder.optionalStart();
      year(builder).appendLiteral(mark);
      part(builder, ChronoField.MONTH_OF_YEAR).appendLiteral(mark);
      part(builder, ChronoField.DAY_OF_MONTH).optionalEnd().optionalStart();
      part(builder, monthFirst ? ChronoField.MONTH_OF_YEAR : ChronoField.DAY_OF_MONTH)
          .appendLiteral(mark);
      part(builder, monthFirst ? ChronoField.DAY_OF_MONTH : ChronoField.MONTH_OF_YEAR)
          .appendLiteral(mark);
      year(builder).optionalEnd();
    }
    this.format = strict(builder.optionalStart().appendLiteral(' ').append(CLOCK).optionalEnd());
  }

  private static DateTimeFormatter strict(DateTimeFormatterBuilder builder) {
    return builder.toFormatter(Locale.ROOT).withResolverStyle(ResolverStyle.STRICT);
  }

  private static DateTimeFormatterBuilder year(DateTimeFormatterBuilder builder) {
    return builder.appendValue(ChronoField.YEAR, 4, 4, SignStyle.NOT_NEGATIVE);
  }

  private static DateTimeFormatterBuilder part(
      DateTimeFormatterBuilder builder, ChronoField field) {
    return builder.appendValue(field, 1, 2, SignStyle.NOT_NEGATIVE);
  }

  /** Hours to minutes, with seconds and AM or PM or without. */
  private static DateTimeFormatterBuilder clock() {
    DateTimeFormatterBuilder builder = new DateTimeFormatterBuilder().parseCaseInsensitive();
    for (ChronoField hour : List.of(ChronoField.CLOCK_HOUR_OF_AMPM, ChronoField.HOUR_OF_DAY)) {
      part(builder.optionalStart(), hour)
          .appendLiteral(':')
          .appendValue(ChronoField.MINUTE_OF_HOUR, 2)
          .optionalStart()
          .appendLiteral(':')
          .appendValue(ChronoField.SECOND_OF_MINUTE, 2)
          .optionalStart()
          .appendFraction(ChronoField.NANO_OF_SECOND, 1, 9, true)
          .optionalEnd()
          .optionalEnd();
      if (hour == ChronoField.CLOCK_HOUR_OF_AMPM) {
        builder.appendPattern("[ ]a");
      }
      builder.optionalEnd();
    }
    return builder;
  }

  /** Looks at what a date shows about the order; the first way is the month first. */
  static void look(Evidence evidence, String text, int line, String column) {
    if (evidence.isFirst().isPresent()) {
      return;
    }
    Optional<LocalDate> month = MONTH_FIRST.parts(text).map(found -> found.query(DATE));
    Optional<LocalDate> day = DAY_FIRST.parts(text).map(found -> found.query(DATE));
    if (!month.equals(day)) {
      evidence.take(month.isPresent(), day.isPresent(), text, line, column);
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
    if (evidence.matters()) {
      context.fact("dates", monthFirst ? "month first" : "day first");
    }
    return monthFirst ? MONTH_FIRST : DAY_FIRST;
  }

  /** A time with its date. */
  Optional<LocalDateTime> read(String text) {
    return parts(text)
        .filter(found -> found.query(DATE) != null && found.query(TIME) != null)
        .map(LocalDateTime::from);
  }

  /** A day alone. */
  Optional<LocalDate> day(String text) {
    return parts(text).filter(found -> found.query(TIME) == null).map(found -> found.query(DATE));
  }

  /** A time of day alone. */
  static Optional<LocalTime> clock(String text) {
    return parsed(CLOCK, text).map(found -> found.query(TIME));
  }

  private Optional<TemporalAccessor> parts(String text) {
    return parsed(format, BETWEEN.matcher(text).replaceFirst(" "));
  }

  private static Optional<TemporalAccessor> parsed(DateTimeFormatter format, String text) {
    try {
      return Optional.of(format.parse(text.replace(',', '.')));
    } catch (DateTimeException e) {
      // There is no such time; the caller names the text.
      return Optional.empty();
    }
  }
}
