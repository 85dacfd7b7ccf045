/**
 * How much of the variation is cells, boards, lots, their pairing and the bench: one result for
 * each characteristic.
 */
@NullMarked
package lotproof.spread;

import org.jspecify.annotations.NullMarked;
