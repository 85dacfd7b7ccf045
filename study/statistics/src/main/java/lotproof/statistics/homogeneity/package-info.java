/** Whether several groups scatter alike: tests and intervals for variances. */
@NullMarked
package lotproof.statistics.homogeneity;

import org.jspecify.annotations.NullMarked;
