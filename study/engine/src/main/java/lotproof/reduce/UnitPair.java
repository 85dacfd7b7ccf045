package lotproof.reduce;

import lotproof.study.Design;

/** What was measured on a cell with a board. */
public interface UnitPair {
  /** Serial of the cell. */
  String cell();

  /** Serial of the board. */
  String board();

  /** Name of the pair, the same for all its runs. */
  default String pair() {
    return Design.pairName(cell(), board());
  }
}
