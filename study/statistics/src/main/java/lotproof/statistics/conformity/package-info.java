/** Deciding against limits when the measured value is uncertain: guard bands and risks. */
@NullMarked
package lotproof.statistics.conformity;

import org.jspecify.annotations.NullMarked;
