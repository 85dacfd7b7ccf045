package lotproof.gather;

import java.math.BigDecimal;
import java.util.Optional;
import lotproof.folder.UnitsOfMeasure;
import lotproof.gather.Table.NumberStyle;

/** How numbers that are text are read in one file. */
final class NumberText {
  private final NumberStyle style;
  private final boolean decimalComma;

  NumberText(NumberStyle style, boolean decimalComma) {
    this.style = style;
    this.decimalComma = decimalComma;
  }

  Optional<BigDecimal> read(String text) {
    return decimalComma
        ? text.contains(".") ? Optional.empty() : UnitsOfMeasure.number(text.replace(',', '.'))
        : UnitsOfMeasure.number(text);
  }

  /** Why a text is no number in this file, and what would be right. */
  String whyNot(String text) {
    String no = "\"" + text + "\" is not a number";
    boolean commaWouldDo =
        !decimalComma && UnitsOfMeasure.number(text.replace(',', '.')).isPresent();
    if (commaWouldDo && style == NumberStyle.POINT_OR_COMMA) {
      return no + " here: other numbers of this file have a decimal point";
    } else if (commaWouldDo) {
      return no
          + "; write "
          + text.replace(',', '.')
          + " (a decimal comma is read only where semicolons separate the columns)";
    } else if (decimalComma && UnitsOfMeasure.number(text).isPresent()) {
      return no + " here: other numbers of this file have a decimal comma";
    }
    return no + "; write digits, such as 1234.5, without grouping marks";
  }
}
