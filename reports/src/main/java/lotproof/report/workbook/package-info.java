/** The report as a workbook that can be recalculated. */
@NullMarked
package lotproof.report.workbook;

import org.jspecify.annotations.NullMarked;
