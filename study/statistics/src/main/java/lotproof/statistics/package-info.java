/**
 * The mathematics of lots and claims: intervals, tests and fits that know nothing of load cells,
 * files or reports.
 */
@NullMarked
package lotproof.statistics;

import org.jspecify.annotations.NullMarked;
