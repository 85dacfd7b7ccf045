package lotproof.report.model;

import java.util.List;

/**
 * A workbook.
 *
 * @param identity what it is about and what it was made from
 * @param summary what its first sheet says
 * @param sheets the other sheets in order
 */
public record Workbook(Identity identity, Summary summary, List<Sheet> sheets) {
  public Workbook {
    sheets = List.copyOf(sheets);
    Check.distinct(tables(sheets).stream().map(Table::id).toList(), "ids of tables");
  }

  /**
   * The first sheet.
   *
   * @param verdict the question and the answer
   * @param status whether all inputs are as recorded
   * @param entries what else is to be known, in order
   */
  public record Summary(Cell verdict, Cell status, List<Entry> entries) {
    public Summary {
      entries = List.copyOf(entries);
    }
  }

  /** Words under a label. */
  public record Entry(String label, Cell words) {}

  /** All tables in order. */
  public List<Table> tables() {
    return tables(sheets);
  }

  private static List<Table> tables(List<Sheet> sheets) {
    return sheets.stream().flatMap(sheet -> sheet.tables().stream()).toList();
  }
}
