/** The report's tables and results as data: CSV and JSON. */
@NullMarked
package lotproof.report.data;

import org.jspecify.annotations.NullMarked;
