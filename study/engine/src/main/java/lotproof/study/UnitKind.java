package lotproof.study;

/** The two kinds of unit whose lots are studied. A buyer receives one of each, as a kit. */
public enum UnitKind {
  CELL("cell"),
  BOARD("board");

  private final String word;

  UnitKind(String word) {
    this.word = word;
  }

  /** The word used in files and reports. */
  public String word() {
    return word;
  }
}
