/** What all commands share: where they run, what they print and ask, and how they fail. */
@NullMarked
package lotproof.app.cli;

import org.jspecify.annotations.NullMarked;
