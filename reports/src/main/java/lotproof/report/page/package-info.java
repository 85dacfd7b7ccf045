/** The report as one page that needs nothing else. */
@NullMarked
package lotproof.report.page;

import org.jspecify.annotations.NullMarked;
