/**
 * Linear algebra for the likelihood: symmetric matrices stored row by row, small ones, and sparse
 * ones with a fixed pattern. Not exported.
 */
@NullMarked
package lotproof.statistics.linear;

import org.jspecify.annotations.NullMarked;
