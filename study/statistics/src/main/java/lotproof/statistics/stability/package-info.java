/** Noise of a signal over time: stability against averaging, bits that can be used. */
@NullMarked
package lotproof.statistics.stability;

import org.jspecify.annotations.NullMarked;
