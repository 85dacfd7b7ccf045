/**
 * Rows as benches write them to readings: which layout, which column, which unit. What cannot be
 * known is a question, and what a person answered can be saved as a mapping.
 */
@NullMarked
package lotproof.gather.layout;

import org.jspecify.annotations.NullMarked;
