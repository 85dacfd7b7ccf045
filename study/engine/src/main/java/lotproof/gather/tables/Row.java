package lotproof.gather.tables;

import java.util.List;
import java.util.stream.IntStream;

/**
 * One row of a received table.
 *
 * @param number line of the text file or row of the sheet, counted from 1
 * @param cells its cells from the first column on; columns beyond the last are blank
 */
public record Row(int number, List<Cell> cells) {
  private static final Cell BLANK = new Cell.Blank();

  public Row {
    cells = List.copyOf(cells);
  }

  /** The cell of a column counted from 0. */
  public Cell cell(int column) {
    return column < cells.size() ? cells.get(column) : BLANK;
  }

  /** The same with another cell. */
  public Row with(int column, Cell cell) {
    int size = Math.max(cells.size(), column + 1);
    return new Row(
        number, IntStream.range(0, size).mapToObj(i -> i == column ? cell : cell(i)).toList());
  }

  /** Whether it holds nothing at all. */
  public boolean isBlank() {
    for (Cell cell : cells) {
      if (!(cell instanceof Cell.Blank)) {
        return false;
      }
    }
    return true;
  }
}
