package lotproof.app;

import java.io.BufferedReader;
import java.io.FileDescriptor;
import java.io.FileOutputStream;
import java.io.InputStreamReader;
import java.io.OutputStreamWriter;
import java.io.PrintWriter;
import java.nio.charset.Charset;
import java.nio.charset.StandardCharsets;
import java.util.concurrent.ForkJoinPool;
import lotproof.app.cli.CliContext;
import lotproof.app.cli.Exit;
import picocli.CommandLine.Help.Ansi;

/** Entry point of the command line. */
public final class Main {
  private Main() {}

  public static void main(String[] args) {
    int exit;
    try {
      exit = start(args);
    } catch (Throwable e) {
      // before there is a command: a class that is missing, or a pool that cannot start
      System.err.println(crash(e));
      exit = Exit.FAULT;
    }
    System.exit(exit);
  }

  private static int start(String... args) {
    boolean terminal = Ansi.AUTO.enabled();
    Charset charset = terminal ? terminalCharset() : StandardCharsets.UTF_8;
    BufferedReader in =
        terminal
            ? null
            : new BufferedReader(new InputStreamReader(System.in, StandardCharsets.UTF_8));
    CliContext io =
        new CliContext(
            writer(FileDescriptor.out, charset), writer(FileDescriptor.err, charset), in, terminal);
    // inside a pool of its own, where whoever waits for a part of the work helps with the others
    ForkJoinPool pool = new ForkJoinPool(Runtime.getRuntime().availableProcessors());
    return pool.submit(() -> run(io, args)).join();
  }

  /** Runs one command as from a pipe, and gives its exit code: no terminal, no colour unasked. */
  public static int run(PrintWriter out, PrintWriter err, String... args) {
    return run(
        new CliContext(out, err, new BufferedReader(BufferedReader.nullReader()), false), args);
  }

  static int run(CliContext io, String... args) {
    try (io) {
      return LotproofCommand.commandLine(io).execute(args);
    } catch (Throwable e) {
      // the command line's own handler hears of exceptions only, and of none before it is parsed
      return fault(io, e);
    }
  }

  /** Says that the program itself went wrong; never shows a stack trace. */
  static int fault(CliContext io, Throwable failure) {
    io.complain(crash(failure));
    return Exit.FAULT;
  }

  /**
   * One line for whatever went wrong, by the cause behind exceptions that add nothing. It uses
   * classes of Java alone: ours may be missing.
   */
  static String crash(Throwable failure) {
    Throwable cause = failure;
    while (cause.getCause() != null
        && (cause instanceof ExceptionInInitializerError
            || cause.getMessage() == null
            || cause.getMessage().equals(cause.getCause().toString()))) {
      cause = cause.getCause();
    }
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
        + told.replaceAll("\\p{Cntrl}+", " ")
        + missing;
  }

  private static Charset terminalCharset() {
    String name = System.getProperty("stdout.encoding", System.getProperty("native.encoding", ""));
    return !name.isEmpty() && Charset.isSupported(name)
        ? Charset.forName(name)
        : StandardCharsets.UTF_8;
  }

  private static PrintWriter writer(FileDescriptor descriptor, Charset charset) {
    return new PrintWriter(
        new OutputStreamWriter(new FileOutputStream(descriptor), charset), false);
  }
}
