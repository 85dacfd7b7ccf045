package lotproof.plan.design;

/**
 * A cell and a board that meet for one run.
 *
 * @param cell index of the cell
 * @param board index of the board
 * @param pass in which pass, counted from 1
 */
public record Meeting(int cell, int board, int pass) {
  public Meeting {
    if (cell < 0 || board < 0 || pass < 1) {
      throw new IllegalArgumentException(
          "cell and board must be 0 or above and pass 1 or above, were "
              + cell
              + ", "
              + board
              + ", "
              + pass);
    }
  }

  boolean samePair(Meeting other) {
    return cell == other.cell && board == other.board;
  }
}
