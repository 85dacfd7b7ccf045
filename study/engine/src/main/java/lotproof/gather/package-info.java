/**
 * Files from the bench become readings with their provenance. Every trouble is an issue that names
 * its place; nothing is guessed in silence and nothing accepted is lost.
 */
@NullMarked
package lotproof.gather;

import org.jspecify.annotations.NullMarked;
