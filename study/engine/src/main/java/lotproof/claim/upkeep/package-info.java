/** What keeps a claim true: how decisions move it, production limits, later lots. */
@NullMarked
package lotproof.claim.upkeep;

import org.jspecify.annotations.NullMarked;
