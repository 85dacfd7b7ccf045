package lotproof.model;

import java.util.Set;

/** What a random factor stands for, from the coarsest to the finest. */
public enum Role {
  CELL_LOT("cell lot", "Cell lots"),
  BOARD_LOT("board lot", "Board lots"),
  CELL("cell", "Cells"),
  BOARD("board", "Boards"),
  /** Cell and board together, where each only ever met the other. */
  KIT("kit", "Kits (cell and board together)"),
  PAIR("pair", "Pairing"),
  RESIDUAL("residual", "Bench and repeat");

  /** What is known of the cells. */
  public static final Set<Role> OF_CELLS = Set.of(CELL, CELL_LOT);

  /** What is known of the boards. */
  public static final Set<Role> OF_BOARDS = Set.of(BOARD, BOARD_LOT);

  private final String key;
  private final String title;

  Role(String key, String title) {
    this.key = key;
    this.title = title;
  }

  /** Name of the factor in fits and files. */
  public String key() {
    return key;
  }

  /** Name shown to people. */
  public String title() {
    return title;
  }
}
