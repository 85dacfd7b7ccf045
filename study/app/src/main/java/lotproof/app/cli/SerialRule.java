package lotproof.app.cli;

/** Whether a serial names one unit, or one in each lot. */
public enum SerialRule {
  UNIQUE("unique"),
  PER_LOT("per-lot");

  private final String word;

  SerialRule(String word) {
    this.word = word;
  }

  /** As the command line writes it. */
  @Override
  public String toString() {
    return word;
  }
}
