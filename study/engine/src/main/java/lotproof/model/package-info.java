/**
 * One model for plan and claim: which factors, which curves, which bound. A rehearsal forms its
 * figure with the very code that forms the claim's.
 */
@NullMarked
package lotproof.model;

import org.jspecify.annotations.NullMarked;
