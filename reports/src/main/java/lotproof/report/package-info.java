/** To be described. */
@NullMarked
package lotproof.report;

import org.jspecify.annotations.NullMarked;
