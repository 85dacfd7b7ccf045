/** What a design can tell apart, before any value is looked at. */
@NullMarked
package lotproof.statistics.design;

import org.jspecify.annotations.NullMarked;
