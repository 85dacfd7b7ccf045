package lotproof.app.cli;

/** Exit codes of all commands. */
public final class Exit {
  /** Done. */
  public static final int DONE = 0;

  /** The answer is no: a claim is not supported, or there are data issues under --strict. */
  public static final int NO = 1;

  /** The command or its input cannot be used. */
  public static final int UNUSABLE = 2;

  /** An internal error. */
  public static final int FAULT = 3;

  /** Ended by Ctrl-C, as a shell would say it: 128 and the number of the signal. */
  public static final int INTERRUPTED = 130;

  private Exit() {}
}
