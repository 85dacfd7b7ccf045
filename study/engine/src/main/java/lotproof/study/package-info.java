/**
 * The nouns of a study: what is measured, on which units, and what is asked. Records and closed
 * sets only; nothing here computes, reads or writes.
 */
@NullMarked
package lotproof.study;

import org.jspecify.annotations.NullMarked;
