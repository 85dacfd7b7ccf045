package lotproof.app;

import java.io.PrintWriter;
import java.io.StringWriter;

/** One run of the program with what it said. */
record Ran(int exit, String out, String err) {
  static Ran lotproof(Object... args) {
    StringWriter out = new StringWriter();
    StringWriter err = new StringWriter();
    String[] words = java.util.Arrays.stream(args).map(String::valueOf).toArray(String[]::new);
    int exit = Main.run(new PrintWriter(out), new PrintWriter(err), words);
    return new Ran(exit, out.toString(), err.toString());
  }

  /** What it said on one line, however it was broken. */
  String words() {
    return out.replaceAll("\\s+", " ");
  }
}
