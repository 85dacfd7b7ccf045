/** Before the bench: designs, run order and rehearsal. */
@NullMarked
package lotproof.plan;

import org.jspecify.annotations.NullMarked;
