package lotproof.app;

import java.io.FileDescriptor;
import java.io.FileOutputStream;
import java.io.OutputStreamWriter;
import java.io.PrintWriter;
import java.io.Writer;
import java.nio.charset.Charset;
import java.nio.charset.StandardCharsets;
import java.util.concurrent.ForkJoinPool;
import java.util.function.Supplier;
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
      System.err.println(LastResort.line(e));
      exit = Exit.FAULT;
    }
    System.exit(exit);
  }

  private static int start(String... args) {
    boolean terminal = Ansi.AUTO.enabled();
    Charset charset = terminal ? terminalCharset() : StandardCharsets.UTF_8;
    PrintWriter out = writer(FileDescriptor.out, charset, terminal);
    PrintWriter err = writer(FileDescriptor.err, charset, terminal);
    int exit = onAllCores(() -> run(new Surroundings(out, err, terminal), args));
    out.flush();
    err.flush();
    return exit;
  }

  /**
   * Runs the work inside a pool of its own, where whoever waits for a part of it helps with the
   * others; a thread from outside would stand idle.
   */
  private static int onAllCores(Supplier<Integer> work) {
    ForkJoinPool pool = new ForkJoinPool(Runtime.getRuntime().availableProcessors());
    return pool.submit(work::get).join();
  }

  /**
   * Runs one command as from a pipe: no terminal, no colour unless asked for.
   *
   * @param out where results go
   * @param err where complaints and progress go
   * @param args the words after the program's name
   * @return the exit code, see {@link Exit}
   */
  public static int run(PrintWriter out, PrintWriter err, String... args) {
    return run(new Surroundings(out, err, false), args);
  }

  static int run(Surroundings io, String... args) {
    try {
      return LotproofCommand.commandLine(io).execute(args);
    } catch (Throwable e) {
      // the command line's own handler hears of exceptions only, and of none before it is parsed
      return Failures.fault(io, e);
    } finally {
      io.out().flush();
      io.err().flush();
    }
  }

  private static Charset terminalCharset() {
    String name = System.getProperty("stdout.encoding", System.getProperty("native.encoding", ""));
    return !name.isEmpty() && Charset.isSupported(name)
        ? Charset.forName(name)
        : StandardCharsets.UTF_8;
  }

  private static PrintWriter writer(FileDescriptor descriptor, Charset charset, boolean terminal) {
    Writer plain = new OutputStreamWriter(new FileOutputStream(descriptor), charset);
    return terminal
        ? new TerminalWriter(plain, () -> ScreenWidth.of(true, System.getenv()))
        : new PrintWriter(plain, false);
  }
}
