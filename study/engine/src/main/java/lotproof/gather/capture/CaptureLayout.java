package lotproof.gather.capture;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import lotproof.folder.text.UnitsOfMeasure;
import lotproof.gather.capture.CaptureFormat.ClockUnit;
import lotproof.gather.capture.CaptureFormat.Coding;
import lotproof.gather.tables.Separator;

/**
 * How a capture was understood.
 *
 * @param separator what separates columns; empty when a line holds one number
 * @param columns number of columns after the terminal's time, if there is one
 * @param headerLine line with the names of the columns, counted from 1; 0 without one
 * @param firstLine line of the first sample
 * @param valueIndex column of the samples, counted from 0
 * @param valueName its header or label; empty without one
 * @param timeIndex column of the clock, counted from 0; empty without one
 * @param clock unit of that clock; NONE without one
 * @param terminalTime whether each line starts with a time of day
 * @param digits how its numbers are written
 * @param unit unit of the numbers as the file names it, else {@code counts}
 */
public record CaptureLayout(
    Optional<Character> separator,
    int columns,
    int headerLine,
    int firstLine,
    int valueIndex,
    String valueName,
    Optional<Integer> timeIndex,
    ClockUnit clock,
    boolean terminalTime,
    Digits digits,
    String unit) {

  /**
   * How numbers are written.
   *
   * @param hexadecimal whether codes are hexadecimal, with 0x or without
   * @param decimalComma whether numbers have a decimal comma
   * @param coding what a code means
   * @param bits width of a code; 0 when not stated
   * @param exponents whether 12E5 is a decimal number beyond doubt
   * @param prefix what stands before each number, such as a label
   * @param suffix what stands after each number, such as a unit
   */
  public record Digits(
      boolean hexadecimal,
      boolean decimalComma,
      Coding coding,
      int bits,
      boolean exponents,
      String prefix,
      String suffix) {
    private static final Pattern HEXADECIMAL = Pattern.compile("(?:0[xX])?([0-9a-fA-F]{1,12})");

    /** Whole numbers up to ten times this are exact. */
    private static final long MOST_EXACT = (1L << 53) / 10;

    private static final int LONGEST = 64;

    /** Those of a clock beside them. */
    Digits ofClock() {
      return new Digits(false, decimalComma, Coding.AUTO, 0, true, "", "");
    }

    /**
     * The number in the characters from..to, blanks around it left out; empty when there is none.
     * Whole numbers, which most are, are read without a pattern.
     */
    OptionalDouble read(String text, int from, int to) {
      int start = from;
      int end = to;
      while (start < end && text.charAt(start) == ' ') {
        start++;
      }
      while (end > start && text.charAt(end - 1) == ' ') {
        end--;
      }
      boolean negative = start < end && text.charAt(start) == '-';
      int at = start < end && (negative || text.charAt(start) == '+') ? start + 1 : start;
      boolean whole = !hexadecimal && at < end;
      long number = 0;
      for (; whole && at < end; at++) {
        int digit = text.charAt(at) - '0';
        whole = digit >= 0 && digit <= 9 && number < MOST_EXACT;
        number = 10 * number + digit;
      }
      if (!whole) {
        return slowly(text.substring(start, end).strip());
      } else if (coding == Coding.AUTO) {
        return OptionalDouble.of((double) (negative ? -number : number));
      }
      return negative ? OptionalDouble.empty() : decoded(number);
    }

    private OptionalDouble slowly(String text) {
      if (hexadecimal) {
        Matcher code = HEXADECIMAL.matcher(text);
        return code.matches() ? decoded(Long.parseLong(code.group(1), 16)) : OptionalDouble.empty();
      }
      String number = decimalComma ? text.replace(',', '.') : text;
      boolean clear =
          coding == Coding.AUTO
              && text.length() <= LONGEST
              && (exponents || number.indexOf('.') >= 0 || !number.matches("[^eE]*[eE].*"));
      return clear ? UnitsOfMeasure.nearest(number) : OptionalDouble.empty();
    }

    private OptionalDouble decoded(long code) {
      if (code < 0 || (bits > 0 && code >= 1L << bits)) {
        return OptionalDouble.empty();
      }
      return OptionalDouble.of(
          switch (coding) {
            case TWOS_COMPLEMENT -> code >= 1L << (bits - 1) ? code - (1L << bits) : code;
            case OFFSET_BINARY -> code - (1L << (bits - 1));
            default -> code;
          });
    }
  }

  /** Whether samples have a time. */
  public boolean hasClock() {
    return terminalTime || timeIndex.isPresent();
  }

  /** For people: what was understood, in one line. */
  public String words() {
    List<String> parts = new ArrayList<>();
    String name = valueName.isEmpty() ? "" : " \"" + valueName + "\"";
    if (separator.isPresent()) {
      parts.add(
          columns
              + " columns separated by "
              + Separator.ofMark(separator.get()).map(Separator::word).orElse("?"));
      parts.add("samples in column " + (valueIndex + 1) + name);
    } else {
      parts.add(
          "one number a line"
              + (digits.prefix().isBlank() ? "" : " after \"" + digits.prefix().strip() + "\""));
    }
    parts.add(
        digits.hexadecimal()
            ? "hexadecimal"
            : "decimal" + (digits.decimalComma() ? " with comma" : ""));
    if (digits.coding() != Coding.AUTO) {
      parts.add(digits.coding().key());
    }
    parts.add("in " + unit);
    if (terminalTime) {
      parts.add("time of day by the terminal");
    }
    timeIndex.ifPresent(at -> parts.add("clock in column " + (at + 1) + " in " + clock.key()));
    if (!hasClock()) {
      parts.add("no clock");
    }
    return String.join(", ", parts);
  }

  /**
   * The time that a terminal writes before a line: {@code 12:34:56.789}, with or without a date
   * before it, brackets around it and an arrow or a separator behind it.
   *
   * @param end where the rest of the line starts
   */
  record TerminalTime(double secondsOfDay, int end) {
    private static final String STAMP =
        "(?:\\d{4}-\\d\\d-\\d\\d[T ])?([01]\\d|2[0-3]):([0-5]\\d):((?:[0-5]\\d|60)(?:\\.\\d+)?)";
    private static final String JOINT = "(?:->|[>|,;:])";
    private static final Pattern BARE =
        Pattern.compile("[ \t]*" + STAMP + "(?:[ \t]+" + JOINT + "?|" + JOINT + "|$)[ \t]*");
    private static final Pattern BRACKETED =
        Pattern.compile("[ \t]*\\[" + STAMP + "\\][ \t]*" + JOINT + "?[ \t]*");

    /** The time at the start of a line, if there is one. */
    static Optional<TerminalTime> of(String line) {
      Matcher time = BARE.matcher(line);
      if (!time.lookingAt() && !time.usePattern(BRACKETED).lookingAt()) {
        return Optional.empty();
      }
      double minutes = 60.0 * Integer.parseInt(time.group(1)) + Integer.parseInt(time.group(2));
      return Optional.of(
          new TerminalTime(60 * minutes + Double.parseDouble(time.group(3)), time.end()));
    }
  }
}
