package lotproof.gather.capture;

import java.nio.charset.StandardCharsets;
import lotproof.gather.capture.CaptureFormat.Coding;

/** Reads the number in a field, without making text of it where it is plain digits. */
final class SampleText {
  private static final long EXACT = 1L << 53;

  /** Powers of ten that are exact. */
  private static final double[] POWERS = new double[23];

  static {
    for (int i = 0; i < POWERS.length; i++) {
      POWERS[i] = Double.parseDouble("1e" + i);
    }
  }

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

  /** The number that was read last. */
  double value() {
    return value;
  }

  /** Reads the characters from..to, blanks around them left out; false when they are no number. */
  boolean read(byte[] text, int from, int to) {
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

  private boolean hex(byte[] text, int start, int end) {
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
      if (digit < 0) {
        return false;
      }
      code = code << 4 | digit;
    }
    return decoded(code);
  }

  private boolean decimal(byte[] text, int start, int end) {
    boolean negative = text[start] == '-';
    int first = negative || text[start] == '+' ? start + 1 : start;
    int mark = -1;
    long digits = 0;
    for (int at = first; at < end; at++) {
      int digit = text[at] - '0';
      if (digit >= 0 && digit <= 9 && digits < EXACT / 10) {
        digits = digits * 10 + digit;
      } else if (text[at] == decimalMark && mark < 0) {
        mark = at;
      } else {
        return slowly(text, start, end);
      }
    }
    int scale = mark < 0 ? 0 : end - 1 - mark;
    if (end - first <= (mark < 0 ? 0 : 1) || scale >= POWERS.length) {
      return slowly(text, start, end);
    }
    if (coding != Coding.AUTO) {
      return mark < 0 && !negative && decoded(digits);
    }
    double number = digits / POWERS[scale];
    value = negative ? -number : number;
    return true;
  }

  /** Numbers that are too long or have an exponent; a code has neither. */
  private boolean slowly(byte[] text, int start, int end) {
    if (coding != Coding.AUTO || end - start > 64) {
      return false;
    }
    String number =
        new String(text, start, end - start, StandardCharsets.ISO_8859_1).replace(decimalMark, '.');
    boolean clear = exponents || number.indexOf('.') >= 0 || !number.matches("[^eE]*[eE].*");
    if (!clear || !number.matches("[+-]?(?:[0-9]+\\.?[0-9]*|\\.[0-9]+)(?:[eE][+-]?[0-9]{1,3})?")) {
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
