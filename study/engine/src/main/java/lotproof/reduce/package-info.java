/**
 * From readings to load runs, and from load runs to the characteristics and error curves of each
 * pair.
 */
@NullMarked
package lotproof.reduce;

import org.jspecify.annotations.NullMarked;
