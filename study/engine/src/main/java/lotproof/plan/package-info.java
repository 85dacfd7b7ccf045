/**
 * Before the bench: designs, run order and rehearsal.
 *
 * <p>The physical model here produces what a bench would have shown. It is used to make the
 * invented demo study and to rehearse a planned one; no result of a real study comes from it.
 */
@NullMarked
package lotproof.plan;

import org.jspecify.annotations.NullMarked;
