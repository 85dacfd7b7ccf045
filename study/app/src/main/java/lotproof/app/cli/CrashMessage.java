package lotproof.app.cli;

import java.util.regex.Pattern;

/** The line about an internal error. It uses classes of Java alone: ours may be missing. */
public final class CrashMessage {
  private static final Pattern CONTROL = Pattern.compile("\\p{Cntrl}+");

  private CrashMessage() {}

  /** One line for whatever went wrong, by the cause behind exceptions that add nothing. */
  public static String of(Throwable failure) {
    Throwable cause = cause(failure);
    if (cause instanceof OutOfMemoryError) {
      return "lotproof: this needs more memory than Java was given ("
          + Runtime.getRuntime().maxMemory() / 1_000_000
          + " MB); start it with more, such as java -Xmx4g -jar lotproof.jar ...";
    }
    String told = cause.getMessage() == null ? "no details" : cause.getMessage();
    String missing =
        cause instanceof NoClassDefFoundError || cause instanceof ClassNotFoundException
            ? "; is the folder lib complete beside the jar?"
            : "";
    return "lotproof: internal error, not caused by your data: "
        + cause.getClass().getSimpleName()
        + ": "
        + CONTROL.matcher(told).replaceAll(" ")
        + missing;
  }

  private static Throwable cause(Throwable failure) {
    Throwable cause = failure;
    while (cause.getCause() != null
        && (cause instanceof ExceptionInInitializerError
            || String.valueOf(cause.getMessage()).equals(cause.getCause().toString())
            || cause.getMessage() == null)) {
      cause = cause.getCause();
    }
    return cause;
  }
}
