/** The measuring itself: how much of what is seen comes from bench, person and reference. */
@NullMarked
package lotproof.statistics.gauge;

import org.jspecify.annotations.NullMarked;
