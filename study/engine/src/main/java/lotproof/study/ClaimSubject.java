package lotproof.study;

/** What the figure is for. */
public enum ClaimSubject {
  KIT("kit"),
  CELL("cell"),
  BOARD("board");

  private final String key;

  ClaimSubject(String key) {
    this.key = key;
  }

  /** The name used in study.yaml. */
  public String key() {
    return key;
  }

  /** Several of them: kits, cells or boards. */
  public String plural() {
    return key + "s";
  }
}
