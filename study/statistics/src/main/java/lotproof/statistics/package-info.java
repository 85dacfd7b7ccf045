/** To be described. */
@NullMarked
package lotproof.statistics;

import org.jspecify.annotations.NullMarked;
