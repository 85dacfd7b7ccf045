package lotproof.app.files;

import java.util.List;
import lotproof.gather.Row;

/**
 * What one sheet holds.
 *
 * @param name the sheet's name
 * @param rows its rows that are not blank
 * @param problems cells that hold no data
 * @param hiddenRows numbers of rows that are not blank and not shown
 */
record SheetContent(String name, List<Row> rows, List<Problem> problems, List<Integer> hiddenRows) {

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
    hiddenRows = List.copyOf(hiddenRows);
  }
}
