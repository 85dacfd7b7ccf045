/** Values in the order of time: runs, trend, what one reading tells about the next. */
@NullMarked
package lotproof.statistics.sequence;

import org.jspecify.annotations.NullMarked;
