/** The report's first page as a PDF for the file. */
@NullMarked
package lotproof.report.summary;

import org.jspecify.annotations.NullMarked;
