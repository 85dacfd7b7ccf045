/** Findings of the engine as sentences, for report sections and the terminal alike. */
@NullMarked
package lotproof.report.words;

import org.jspecify.annotations.NullMarked;
