/**
 * Turns the result of a study into a report: which tables, charts and sentences, in which order.
 */
@NullMarked
package lotproof.report.assembly;

import org.jspecify.annotations.NullMarked;
