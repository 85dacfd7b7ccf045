/** The shape of a sample: tests of normality, skewness, kurtosis. */
@NullMarked
package lotproof.statistics.shape;

import org.jspecify.annotations.NullMarked;
