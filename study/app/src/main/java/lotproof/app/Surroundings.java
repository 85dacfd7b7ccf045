package lotproof.app;

import java.io.BufferedReader;
import java.io.InputStreamReader;
import java.io.PrintWriter;
import java.nio.charset.StandardCharsets;

/**
 * Where a command runs.
 *
 * @param out where results go
 * @param err where complaints and progress go
 * @param in what is typed or piped in, where there is no terminal
 * @param terminal whether a person looks at both
 */
record Surroundings(PrintWriter out, PrintWriter err, BufferedReader in, boolean terminal) {
  Surroundings(PrintWriter out, PrintWriter err, boolean terminal) {
    this(
        out,
        err,
        new BufferedReader(new InputStreamReader(System.in, StandardCharsets.UTF_8)),
        terminal);
  }
}
