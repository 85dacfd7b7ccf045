/**
 * Tables as benches write them: which separator, which layout, which column, which unit. What
 * cannot be known is a question, and what a person answered can be saved as a mapping.
 */
@NullMarked
package lotproof.gather.tables;

import org.jspecify.annotations.NullMarked;
