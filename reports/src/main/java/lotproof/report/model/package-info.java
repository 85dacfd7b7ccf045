/**
 * The report as data: what is said, shown and explained, in which order, with every number at full
 * precision. Nothing here knows a file format. Rounding, units in words, escaping and layout belong
 * to the writers.
 */
@NullMarked
package lotproof.report.model;

import org.jspecify.annotations.NullMarked;
