package lotproof.model;

import java.util.Set;
import lotproof.statistics.components.Component;
import lotproof.study.Keyed;

/** What a random factor stands for, from the coarsest to the finest. */
public enum Role implements Keyed {
  CELL_LOT("Cell lots"),
  BOARD_LOT("Board lots"),
  CELL("Cells"),
  BOARD("Boards"),
  /** Cell and board together, where each only ever met the other. */
  KIT("Kits (cell and board together)"),
  PAIR("Pairing"),
  RESIDUAL("Bench and repeat");

  /** What is known of the cells. */
  public static final Set<Role> OF_CELLS = Set.of(CELL, CELL_LOT);

  /** What is known of the boards. */
  public static final Set<Role> OF_BOARDS = Set.of(BOARD, BOARD_LOT);

  private final String title;

  Role(String title) {
    this.title = title;
  }

  /** Name in fits and files. */
  @Override
  public String key() {
    return Keyed.super.key().replace('-', ' ');
  }

  /** Its component in fits. */
  public Component component() {
    return new Component(key());
  }

  /** Name shown to people. */
  public String title() {
    return title;
  }
}
