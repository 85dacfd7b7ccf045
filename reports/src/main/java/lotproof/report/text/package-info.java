/** How values and outside text are put into words, and the report as plain text. */
@NullMarked
package lotproof.report.text;

import org.jspecify.annotations.NullMarked;
