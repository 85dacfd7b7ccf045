package lotproof.app;

import java.io.PrintWriter;

/**
 * Where a command runs.
 *
 * @param out where results go
 * @param err where complaints and progress go
 * @param terminal whether a person looks at both
 */
record Surroundings(PrintWriter out, PrintWriter err, boolean terminal) {}
