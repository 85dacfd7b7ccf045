/**
 * What a design can support: by the expected information where there is a formula, by simulation
 * where there is none.
 */
@NullMarked
package lotproof.plan.rehearse;

import org.jspecify.annotations.NullMarked;
