package lotproof.app;

import java.io.Console;
import java.io.FileDescriptor;
import java.io.FileOutputStream;
import java.io.OutputStreamWriter;
import java.io.PrintWriter;
import java.nio.charset.Charset;
import java.nio.charset.StandardCharsets;

/** Entry point of the command line. */
public final class Main {
  private Main() {}

  public static void main(String[] args) {
    Console console = System.console();
    boolean terminal = console != null;
    Charset charset = console != null ? console.charset() : StandardCharsets.UTF_8;
    PrintWriter out = writer(FileDescriptor.out, charset);
    PrintWriter err = writer(FileDescriptor.err, charset);
    int exit = run(new Surroundings(out, err, terminal), args);
    out.flush();
    err.flush();
    System.exit(exit);
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
    } catch (StackOverflowError | OutOfMemoryError e) {
      return Failures.fault(io, e);
    } finally {
      io.out().flush();
      io.err().flush();
    }
  }

  private static PrintWriter writer(FileDescriptor descriptor, Charset charset) {
    return new PrintWriter(
        new OutputStreamWriter(new FileOutputStream(descriptor), charset), false);
  }
}
