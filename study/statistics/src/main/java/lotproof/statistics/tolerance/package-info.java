/** Tolerance limits: how far the units of a lot may lie, with a stated content and confidence. */
@NullMarked
package lotproof.statistics.tolerance;

import org.jspecify.annotations.NullMarked;
