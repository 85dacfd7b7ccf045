package lotproof.gather.capture;

import lotproof.gather.capture.CaptureFormat.Coding;

/** Reads the number in a field without making text of it. */
final class SampleText {
  private static final double[] POWERS = powers();
  private static final long EXACT = 1L << 53;

  /** So many digits make a number below 2^53, whichever they are. */
  private static final int SHORT = 15;

  private final boolean hexadecimal;
  private final char decimalMark;
  private final boolean exponents;
  private final Coding coding;
  private final int bits;
  private double value;

  /**
   * A reader.
   *
   * @param digits how numbers are written; hexadecimal ones with 0x or without
   * @param exponents whether 12E5 is a decimal number beyond doubt
   * @param bits width of a code; 0 when not stated
   */
  SampleText(CaptureLayout.Digits digits, boolean exponents, int bits) {
    this.hexadecimal = digits.hexadecimal();
    this.decimalMark = digits.decimalComma() ? ',' : '.';
    this.exponents = exponents;
    this.coding = digits.coding();
    this.bits = bits;
  }

  private static double[] powers() {
    double[] powers = new double[23];
    powers[0] = 1;
    for (int i = 1; i < powers.length; i++) {
      powers[i] = powers[i - 1] * 10;
    }
    return powers;
  }

  /** The number that was read last. */
  double value() {
    return value;
  }

  /** Reads the characters from..to, blanks around them left out; false when they are no number. */
  boolean read(char[] text, int from, int to) {
    if (!hexadecimal && shortInteger(text, from, to)) {
      return true;
    }
    int start = from;
    int end = to;
    while (start < end && (text[start] == ' ' || text[start] == '\t')) {
      start++;
    }
    while (end > start && (text[end - 1] == ' ' || text[end - 1] == '\t')) {
      end--;
    }
    return start < end && (hexadecimal ? hex(text, start, end) : decimal(text, start, end));
  }

  /** Nearly all fields of a capture: a few digits and nothing else. False says nothing. */
  private boolean shortInteger(char[] text, int start, int end) {
    boolean negative = start < end && text[start] == '-';
    int first = negative ? start + 1 : start;
    if (first >= end || end - first > SHORT) {
      return false;
    }
    long digits = 0;
    for (int at = first; at < end; at++) {
      int digit = text[at] - '0';
      if (digit < 0 || digit > 9) {
        return false;
      }
      digits = digits * 10 + digit;
    }
    if (coding != Coding.AUTO) {
      return !negative && decoded(digits);
    }
    value = negative ? -(double) digits : digits;
    return true;
  }

  private boolean hex(char[] text, int start, int end) {
    int at = start;
    if (end - at > 2 && text[at] == '0' && (text[at + 1] == 'x' || text[at + 1] == 'X')) {
      at += 2;
    }
    if (end - at > 12) {
      return false;
    }
    long code = 0;
    for (; at < end; at++) {
      int digit = Character.digit(text[at], 16);
      if (digit < 0 || text[at] > 'f') {
        return false;
      }
      code = code << 4 | digit;
    }
    return decoded(code);
  }

  private boolean decimal(char[] text, int start, int end) {
    boolean negative = text[start] == '-';
    int at = negative || text[start] == '+' ? start + 1 : start;
    long digits = 0;
    int scale = 0;
    int count = 0;
    boolean point = false;
    for (; at < end; at++) {
      char c = text[at];
      if (c >= '0' && c <= '9') {
        if (digits >= EXACT / 10) {
          return slowly(text, start, end);
        }
        digits = digits * 10 + (c - '0');
        count++;
        scale += point ? 1 : 0;
      } else if (c == decimalMark && !point) {
        point = true;
      } else {
        boolean exponent = (c == 'e' || c == 'E') && count > 0 && (point || exponents);
        return exponent && slowly(text, start, end);
      }
    }
    if (count == 0 || scale >= POWERS.length) {
      return count > 0 && slowly(text, start, end);
    }
    if (!point && coding != Coding.AUTO) {
      return !negative && decoded(digits);
    }
    double number = scale == 0 ? digits : digits / POWERS[scale];
    value = negative ? -number : number;
    return coding == Coding.AUTO;
  }

  /** Numbers that are too long or have an exponent; a code has neither. */
  private boolean slowly(char[] text, int start, int end) {
    if (coding != Coding.AUTO || end - start > 64) {
      return false;
    }
    String number = new String(text, start, end - start).replace(decimalMark, '.');
    if (!number.matches("[+-]?(?:[0-9]+\\.?[0-9]*|\\.[0-9]+)(?:[eE][+-]?[0-9]{1,3})?")) {
      return false;
    }
    value = Double.parseDouble(number);
    return Double.isFinite(value);
  }

  private boolean decoded(long code) {
    if (bits > 0 && code >= 1L << bits) {
      return false;
    }
    value =
        switch (coding) {
          case TWOS_COMPLEMENT -> code >= 1L << (bits - 1) ? code - (1L << bits) : code;
          case OFFSET_BINARY -> code - (1L << (bits - 1));
          default -> code;
        };
    return true;
  }
}
