/**
 * What a figure is computed from: error curves at a calibration level, in the claim's form, what is
 * added to their bound, and the conditions that the record shows.
 */
@NullMarked
package lotproof.claim.evidence;

import org.jspecify.annotations.NullMarked;
