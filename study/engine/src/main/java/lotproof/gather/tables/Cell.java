package lotproof.gather.tables;

import java.math.BigDecimal;
import java.time.LocalDateTime;

/** What one cell of a received table holds, as the file means it. */
public sealed interface Cell {
  /** What it says to people, as text; empty where it says nothing. */
  default String shown() {
    return "";
  }

  /** Nothing. */
  record Blank() implements Cell {}

  /** Text, without the white space around it. */
  record Text(String value) implements Cell {
    @Override
    public String shown() {
      return value;
    }
  }

  /**
   * A number that the file itself stores as a number.
   *
   * @param value the number
   * @param shown the number as the file shows it to people, such as 0012 for 12
   */
  record Numeric(BigDecimal value, String shown) implements Cell {}

  /**
   * A date that the file itself stores as a date.
   *
   * @param value the date, at midnight where it has no time of day
   * @param hasTime whether it has a time of day
   */
  record DateTime(LocalDateTime value, boolean hasTime) implements Cell {
    @Override
    public String shown() {
      return hasTime ? value.toString() : value.toLocalDate().toString();
    }
  }

  /** A value that a person said not to take; what needs it is left out. */
  record LeftOut() implements Cell {}

  /** Something that is no data, about which the reader of the file has raised an issue. */
  record Unusable() implements Cell {}

  /** Text as a cell, without the white space around it; blank when nothing is left. */
  static Cell of(String raw) {
    int from = 0;
    int to = raw.length();
    while (from < to && isWhite(raw.charAt(from))) {
      from++;
    }
    while (from < to && isWhite(raw.charAt(to - 1))) {
      to--;
    }
    return from == to ? new Blank() : new Text(raw.substring(from, to));
  }

  /** White space of all scripts, the no-break spaces included. */
  private static boolean isWhite(char c) {
    return Character.isSpaceChar(c) || (c >= '\t' && c <= '\r') || c == '\u0085';
  }
}
