/** Checks a person's draft of a claim against what the study supports. */
@NullMarked
package lotproof.claim.draft;

import org.jspecify.annotations.NullMarked;
