/**
 * What a figure assumes: that the plan was measured, that cells and boards met by chance, that lots
 * can be told from time. Each is checked against the data as far as they show it, and what is found
 * is typed.
 */
@NullMarked
package lotproof.claim.premise;

import org.jspecify.annotations.NullMarked;
