package lotproof.reduce;

/**
 * Whether the load was being increased or decreased. The largest load and all before it are rising.
 */
public enum Direction {
  RISING("rising"),
  FALLING("falling");

  private final String word;

  Direction(String word) {
    this.word = word;
  }

  /** The word used in files and reports. */
  public String word() {
    return word;
  }
}
