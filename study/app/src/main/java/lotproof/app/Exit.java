package lotproof.app;

/** Exit codes of all commands. */
final class Exit {
  /** Done. */
  static final int DONE = 0;

  /**
   * The answer is no: a claim is not supported, or there are data issues under {@code --strict}.
   */
  static final int NO = 1;

  /** The command or its input cannot be used. */
  static final int UNUSABLE = 2;

  /** A fault of the program. */
  static final int FAULT = 3;

  private Exit() {}
}
