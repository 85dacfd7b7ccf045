package lotproof.report.data;

import java.math.BigDecimal;
import java.math.MathContext;

/**
 * Numbers as files of data hold them: rounded to twelve significant digits, so that 262.9 is not
 * written 262.90000000000003. What is read back is what was written, and no measurement has as many
 * digits.
 */
final class Significant {
  private static final MathContext DIGITS = new MathContext(12);

  private Significant() {}

  static double of(double value) {
    return Double.isInfinite(value) ? value : BigDecimal.valueOf(value).round(DIGITS).doubleValue();
  }
}
