/** Plain summaries of a sample, accurate to the last digits that doubles allow. */
@NullMarked
package lotproof.statistics.summary;

import org.jspecify.annotations.NullMarked;
