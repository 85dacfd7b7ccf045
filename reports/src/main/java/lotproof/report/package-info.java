/** One report, many writers: where a report goes and who writes it. */
@NullMarked
package lotproof.report;

import org.jspecify.annotations.NullMarked;
