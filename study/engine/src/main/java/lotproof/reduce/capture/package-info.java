/** The samples of a capture to its numbers: noise, resolution, stability and signs of trouble. */
@NullMarked
package lotproof.reduce.capture;

import org.jspecify.annotations.NullMarked;
