package lotproof.study;

/** The two kinds of unit whose lots are studied. A buyer receives one of each, as a kit. */
public enum UnitKind implements Keyed {
  CELL,
  BOARD
}
