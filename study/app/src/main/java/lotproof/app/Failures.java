package lotproof.app;

import java.io.UncheckedIOException;
import java.util.List;
import lotproof.report.text.OutsideText;
import picocli.CommandLine;

/** Turns what went wrong into lines and an exit code. Never shows a stack trace. */
final class Failures {
  private Failures() {}

  /** The command line itself is wrong. */
  static int usage(Surroundings io, CommandLine.ParameterException wrong) {
    CommandLine command = wrong.getCommandLine();
    io.err().println("lotproof: " + oneLine(wrong.getMessage()));
    if (wrong instanceof CommandLine.UnmatchedArgumentException unmatched) {
      List<String> near = unmatched.getSuggestions();
      if (!near.isEmpty()) {
        io.err().println("Did you mean: " + String.join(" or ", near) + "?");
      }
    }
    io.err().println("See: " + command.getCommandSpec().qualifiedName(" ") + " --help");
    return Exit.UNUSABLE;
  }

  /** The command stopped half-way. */
  static int stopped(Surroundings io, Exception failure) {
    if (failure instanceof UnusableException unusable) {
      if (unusable.issues().isEmpty()) {
        io.err().println("lotproof: " + oneLine(unusable.getMessage()));
      } else {
        Issues.print(unusable.issues(), io.err());
      }
      return Exit.UNUSABLE;
    }
    if (failure instanceof UncheckedIOException notRead) {
      io.err().println("lotproof: " + oneLine(notRead.getMessage()) + because(notRead));
      return Exit.UNUSABLE;
    }
    return fault(io, failure);
  }

  /** A fault of the program. */
  static int fault(Surroundings io, Throwable failure) {
    io.err().println(OutsideText.clean(LastResort.line(failure)));
    return Exit.FAULT;
  }

  /** What the file system said, which its messages alone often leave out. */
  private static String because(UncheckedIOException failure) {
    Throwable cause = failure.getCause();
    return cause == null
        ? ""
        : " ("
            + cause.getClass().getSimpleName().replace("Exception", "")
            + ": "
            + oneLine(cause.getMessage())
            + ")";
  }

  private static String oneLine(@org.jspecify.annotations.Nullable String message) {
    return message == null ? "no details" : OutsideText.clean(message);
  }
}
