package lotproof.report.text;

import lotproof.report.model.Cell;
import lotproof.report.model.Table.Column;

/** What a cell shows. */
public final class CellText {
  private CellText() {}

  /** Words, a number rounded as its column asks, or why there is none. */
  public static String of(Cell cell, Column column) {
    if (cell instanceof Cell.Text text) {
      return OutsideText.clean(text.text());
    }
    if (cell instanceof Cell.Missing missing) {
      return OutsideText.clean(missing.reason());
    }
    return NumberText.of(cell.number().orElseThrow(), column.style().orElseThrow());
  }
}
