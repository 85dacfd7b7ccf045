/**
 * What looks wrong about readings before they enter the record. One set of checks for every door:
 * {@link lotproof.gather.plausibility.PlausibilityChecks}.
 */
@NullMarked
package lotproof.gather.plausibility;

import org.jspecify.annotations.NullMarked;
