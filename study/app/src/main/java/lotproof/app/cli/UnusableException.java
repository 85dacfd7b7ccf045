package lotproof.app.cli;

import java.util.List;
import java.util.Locale;
import lotproof.study.DataIssue;
import lotproof.study.Result;

/** What the user gave cannot be used; carries everything that is wrong with it. */
public final class UnusableException extends RuntimeException {
  private static final long serialVersionUID = 1;

  private final transient List<DataIssue> issues;

  public UnusableException(List<DataIssue> issues) {
    super(issues.isEmpty() ? "unusable input" : issues.get(0).sentence());
    this.issues = List.copyOf(issues);
  }

  /** With a message made like {@link String#format}. */
  public UnusableException(String format, Object... values) {
    this(String.format(Locale.ROOT, format, values));
  }

  public UnusableException(String message) {
    super(message);
    this.issues = List.of();
  }

  public List<DataIssue> issues() {
    return issues;
  }

  /** Ends the command when there is an issue. */
  public static void refuse(List<DataIssue> issues) {
    if (!issues.isEmpty()) {
      throw new UnusableException(issues);
    }
  }

  /** The value; without one the reasons end the command. */
  public static <T> T needed(Result<T> result) {
    if (result.isRefused()) {
      throw new UnusableException(result.issues());
    }
    return result.get();
  }
}
