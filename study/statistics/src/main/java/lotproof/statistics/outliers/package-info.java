/** Tests that point at extreme values. They never remove one: a person decides, with a cause. */
@NullMarked
package lotproof.statistics.outliers;

import org.jspecify.annotations.NullMarked;
