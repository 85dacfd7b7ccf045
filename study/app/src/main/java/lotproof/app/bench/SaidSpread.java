package lotproof.app.bench;

import java.math.BigDecimal;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import lotproof.app.cli.UnusableException;
import lotproof.folder.text.UnitsOfMeasure;
import lotproof.folder.text.UnitsOfMeasure.Dimension;
import lotproof.folder.text.UnitsOfMeasure.Unit;

/**
 * How far units differ, as a person says it: a standard deviation, {@code 3}, {@code 3 g} or {@code
 * 0.4 %}, or the tolerance of a data sheet, {@code ±10 %}. Of a tolerance ±a nothing else is known
 * than that no unit lies outside, so its standard deviation is a / √3 (JCGM 100:2008, 4.3.7).
 *
 * @param value the standard deviation, in grams or per cent, 0 or above
 * @param percent whether in per cent
 */
record SaidSpread(double value, boolean percent) {
  private static final Pattern FORM = Pattern.compile("(±|\\+/?-)?\\s*([0-9.,]+)\\s*(%|\\pL*)");

  /** Of a text; the message of what is thrown goes behind the name of the option. */
  static SaidSpread of(String text) {
    Matcher parts = FORM.matcher(text.strip());
    if (!parts.matches() || UnitsOfMeasure.typed(parts.group(2)).isEmpty()) {
      throw refused(text);
    }
    double number = UnitsOfMeasure.typed(parts.group(2)).orElseThrow();
    double deviation = parts.group(1) == null ? number : number / Math.sqrt(3);
    String symbol = parts.group(3).isEmpty() ? Unit.GRAM.symbol() : parts.group(3);
    return symbol.equals("%")
        ? new SaidSpread(deviation, true)
        : new SaidSpread(
            UnitsOfMeasure.spelled(Dimension.MASS, symbol)
                .orElseThrow(() -> refused(text))
                .to(Unit.GRAM, BigDecimal.valueOf(deviation)),
            false);
  }

  private static IllegalArgumentException refused(String text) {
    return new IllegalArgumentException(
        "takes a standard deviation, such as 3, \"3 g\" or \"0.4 %\", or a tolerance, such as"
            + " \"±10 %\", was \""
            + text
            + "\"");
  }

  double grams(PlanSetting setting) {
    return in(setting, false, "grams");
  }

  double percentage(PlanSetting setting) {
    return in(setting, true, "%");
  }

  private double in(PlanSetting setting, boolean wanted, String unit) {
    if (percent != wanted) {
      throw new UnusableException(
          setting.name
              + " is in "
              + unit
              + " here: --cell-sd and --board-sd are both in grams, or both in % with"
              + " --combined-error, and --repeat-sd is in grams");
    }
    return value;
  }
}
