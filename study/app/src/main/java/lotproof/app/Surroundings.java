package lotproof.app;

import java.io.BufferedReader;
import java.io.InputStreamReader;
import java.io.PrintWriter;
import java.nio.charset.StandardCharsets;
import org.apache.commons.text.WordUtils;

/**
 * Where a command runs.
 *
 * @param out where results go
 * @param err where complaints and progress go
 * @param in what is typed or piped in, where there is no terminal
 * @param terminal whether a person looks at both
 */
record Surroundings(PrintWriter out, PrintWriter err, BufferedReader in, boolean terminal) {
  private static final String INDENT = "  ";

  Surroundings(PrintWriter out, PrintWriter err, boolean terminal) {
    this(
        out,
        err,
        new BufferedReader(new InputStreamReader(System.in, StandardCharsets.UTF_8)),
        terminal);
  }

  /** Says a line on the side; in a terminal broken between words, the rest of it set in. */
  void complain(String line) {
    if (!terminal) {
      err.println(line);
      return;
    }
    int width = ScreenWidth.of(true, System.getenv()) - INDENT.length();
    // a path that is longer than a line stays whole, so that it can be copied
    err.println(WordUtils.wrap(line, width, System.lineSeparator() + INDENT, false));
  }
}
