package lotproof.gather.layout;

import java.math.BigDecimal;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import lotproof.folder.text.ReadingColumn;
import lotproof.folder.text.UnitsOfMeasure;
import lotproof.folder.text.UnitsOfMeasure.Unit;
import lotproof.gather.tables.Cell;

/**
 * What a spreadsheet shows for a number beside what it stores: 0.05 shown as 5 %, 12500 shown as 13
 * in a format of thousands, 5 shown as 5.0 g. Whoever typed it meant what is shown or what is
 * stored; which of them is not guessed.
 */
final class ShownNumber {
  private static final Pattern NUMBER =
      Pattern.compile("[+-]?[0-9][0-9,]*(?:\\.[0-9]+)?(?:E[+-]?[0-9]+)?");

  /** Rounding to few digits may double a number; a scale is 100 or 1000. */
  private static final double OTHER_SCALE = 5;

  private ShownNumber() {}

  /** Why a stored number cannot be taken for a quantity; nothing when it can. */
  static Optional<String> whyNot(
      Cell.Numeric number, ReadingColumn column, Optional<Conversion> conversion) {
    String shown = number.shown().strip();
    String stored = UnitsOfMeasure.plain(number.value().doubleValue());
    if (shown.equals(stored)) {
      return Optional.empty();
    }
    String both = "the cell shows " + shown + " and holds " + stored;
    if (shown.endsWith("%")) {
      return Optional.of(
          ("%s; of what it is a percentage is not known: format the column as a"
                  + " number, or write %s")
              .formatted(both, column.header()));
    }
    Matcher digits = NUMBER.matcher(shown);
    if (!digits.find()) {
      return Optional.empty();
    }
    String behind = shown.substring(digits.end()).strip();
    Optional<Unit> unit = HeaderCell.unit(column, behind);
    if (unit.isPresent() && conversion.filter(c -> c.from() != unit.get()).isPresent()) {
      return Optional.of(
          "%s; it is shown in %s, and the column is in %s"
              .formatted(both, unit.get().symbol(), conversion.get().from().symbol()));
    }
    double seen = Math.abs(new BigDecimal(digits.group().replace(",", "")).doubleValue());
    double held = Math.abs(number.value().doubleValue());
    boolean other = seen > 0 && (seen > OTHER_SCALE * held || held > OTHER_SCALE * seen);
    return other
        ? Optional.of(both + "; format the column as a plain number, so that both are the same")
        : Optional.empty();
  }
}
