package lotproof.gather.capture;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
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
   * @param hexadecimal whether codes are hexadecimal
   * @param decimalComma whether numbers have a decimal comma
   * @param coding what a code means
   * @param prefix what stands before each number, such as a label
   * @param suffix what stands after each number, such as a unit
   */
  public record Digits(
      boolean hexadecimal, boolean decimalComma, Coding coding, String prefix, String suffix) {
    /** Those of a clock beside them. */
    Digits ofClock() {
      return new Digits(false, decimalComma, Coding.AUTO, "", "");
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
}
