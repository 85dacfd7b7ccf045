package lotproof.app.cli;

import java.io.UncheckedIOException;
import java.util.Objects;
import picocli.CommandLine;

/** Turns what went wrong into lines and an exit code. Never shows a stack trace. */
public final class Failures {
  private Failures() {}

  /** The command line itself is wrong. */
  public static int usage(CliContext io, CommandLine.ParameterException wrong) {
    io.complain("lotproof: " + wrong.getMessage());
    if (wrong instanceof CommandLine.UnmatchedArgumentException unmatched
        && !unmatched.getSuggestions().isEmpty()) {
      io.complain("Did you mean: " + String.join(" or ", unmatched.getSuggestions()) + "?");
    }
    String command = wrong.getCommandLine().getCommandSpec().qualifiedName(" ");
    io.complain("See: " + command + " --help");
    return Exit.UNUSABLE;
  }

  /** The command stopped half-way. */
  public static int stopped(CliContext io, Exception failure) {
    if (failure instanceof UnusableException unusable && !unusable.issues().isEmpty()) {
      io.showAll(unusable.issues());
    } else if (failure instanceof UnusableException) {
      io.complain("lotproof: " + failure.getMessage());
    } else if (failure instanceof UncheckedIOException unread) {
      // what the file system said is often left out of its message
      Throwable cause = Objects.requireNonNull(unread.getCause());
      String kind = cause.getClass().getSimpleName().replace("Exception", "");
      io.complain(
          "lotproof: " + unread.getMessage() + " (" + kind + ": " + cause.getMessage() + ")");
    } else {
      return fault(io, failure);
    }
    return Exit.UNUSABLE;
  }

  /** An error of the program itself. */
  public static int fault(CliContext io, Throwable failure) {
    io.complain(CrashMessage.of(failure));
    return Exit.FAULT;
  }
}
