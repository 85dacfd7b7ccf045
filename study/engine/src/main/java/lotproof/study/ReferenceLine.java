package lotproof.study;

/** The straight line that non-linearity refers to. */
public enum ReferenceLine {
  TERMINAL("terminal", "terminal line, through zero and the largest load"),
  LEAST_SQUARES("least-squares", "best-fit line by least squares through the rising readings");

  private final String key;
  private final String description;

  ReferenceLine(String key, String description) {
    this.key = key;
    this.description = description;
  }

  /** The name used in study.yaml. */
  public String key() {
    return key;
  }

  /** The line in words, for reports. */
  public String description() {
    return description;
  }
}
