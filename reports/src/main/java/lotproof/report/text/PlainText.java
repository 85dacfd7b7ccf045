package lotproof.report.text;

import lotproof.report.model.Block;
import lotproof.report.model.Cell;
import lotproof.report.model.Prose;
import lotproof.report.model.Quantity;
import lotproof.report.model.Table;
import lotproof.report.model.Table.Column;

/** Cells, numbers and sentences as every writer shows them. */
public final class PlainText {
  private PlainText() {}

  /** Words, a number rounded as its column asks, or why there is none. */
  public static String of(Cell cell, Column column) {
    if (cell instanceof Cell.Text text) {
      return SanitizedText.clean(text.text());
    }
    return cell instanceof Cell.Missing missing
        ? missing.reason().isBlank() ? "none" : SanitizedText.clean(missing.reason())
        : column.format().text(cell.number().orElseThrow());
  }

  /** Words of a block that is neither chart nor table: a callout says first what it is. */
  public static String of(Block block) {
    return block instanceof Block.Callout callout
        ? callout.kind().word() + ": " + of(callout.text())
        : of(((Block.Paragraph) block).text());
  }

  /** Sentences. */
  public static String of(Prose prose) {
    return SanitizedText.clean(prose.text());
  }

  /** How many rows. */
  public static String rows(Table table) {
    int rows = table.rows().size();
    return rows == 1 ? "1 row" : rows + " rows";
  }

  /** Number with its unit. */
  public static String of(Quantity quantity) {
    return SanitizedText.clean(quantity.toString());
  }

  /** The shortest text that gives the same number back. */
  public static String exact(double value) {
    if (value == Math.rint(value) && Math.abs(value) < 1e15) {
      return Long.toString((long) value);
    }
    return Double.toString(value);
  }
}
