package lotproof.gather.tables;

import java.util.List;

/**
 * A header and rows, as a file holds them.
 *
 * @param header the header row
 * @param rows the rows below it that are not blank
 * @param numbers how the file writes numbers
 */
public record Table(Row header, List<Row> rows, NumberStyle numbers) {

  /** How a file writes numbers. */
  public enum NumberStyle {
    /** As text with a decimal point. */
    DECIMAL_POINT,
    /** As text with a decimal point or a decimal comma, the same in the whole file. */
    POINT_OR_COMMA,
    /** As numbers of their own; a number that is text is unusual. */
    TYPED
  }

  public Table {
    rows = List.copyOf(rows);
  }
}
