/** Whether several groups scatter alike: tests of variances. */
@NullMarked
package lotproof.statistics.homogeneity;

import org.jspecify.annotations.NullMarked;
