/**
 * From spread to the figure that can be printed: bounds, guard bands, the sentence, and what lies
 * behind each number.
 */
@NullMarked
package lotproof.claim;

import org.jspecify.annotations.NullMarked;
