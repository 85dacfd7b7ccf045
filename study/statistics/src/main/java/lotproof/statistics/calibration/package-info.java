/** Straight lines and polynomials through calibration points, and what they leave over. */
@NullMarked
package lotproof.statistics.calibration;

import org.jspecify.annotations.NullMarked;
