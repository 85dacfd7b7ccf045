/** Charts drawn from the report's data: vector and pixels, the same on every machine. */
@NullMarked
package lotproof.report.chart;

import org.jspecify.annotations.NullMarked;
