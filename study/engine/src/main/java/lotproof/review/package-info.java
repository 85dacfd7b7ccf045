/** Extreme units with their evidence, and the decisions that people took about them. */
@NullMarked
package lotproof.review;

import org.jspecify.annotations.NullMarked;
