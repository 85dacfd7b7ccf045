/** Commands for what the record supports: spread, figures, decisions, reports, later lots. */
@NullMarked
package lotproof.app.results;

import org.jspecify.annotations.NullMarked;
