package lotproof.app.files;

import java.util.List;
import lotproof.gather.tables.Concealed;
import lotproof.gather.tables.Row;

/**
 * What one sheet holds.
 *
 * @param name the sheet's name
 * @param rows its rows that are not blank
 * @param problems cells that hold no data
 * @param hidden whether it is hidden
 * @param concealed its hidden and struck parts that hold something
 */
record SheetContent(
    String name,
    List<Row> rows,
    List<Problem> problems,
    boolean hidden,
    List<Concealed> concealed) {

  /**
   * A cell that holds no data.
   *
   * @param row counted from 1
   * @param column counted from 0
   * @param what what it holds, and what would be right
   */
  record Problem(int row, int column, String what) {}

  SheetContent {
    rows = List.copyOf(rows);
    problems = List.copyOf(problems);
    concealed = List.copyOf(concealed);
  }
}
