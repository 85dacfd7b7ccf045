package lotproof.gather;

import java.util.List;

/**
 * A header and rows, as a file holds them.
 *
 * @param header the header row
 * @param rows the rows below it that are not blank
 * @param decimalComma whether text cells may write numbers with a decimal comma
 */
public record Table(Row header, List<Row> rows, boolean decimalComma) {
  public Table {
    rows = List.copyOf(rows);
  }
}
