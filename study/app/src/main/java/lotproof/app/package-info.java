/**
 * The command line: wires engine and reports, asks, prints, and answers with an exit code. Holds no
 * mathematics.
 */
@NullMarked
package lotproof.app;

import org.jspecify.annotations.NullMarked;
