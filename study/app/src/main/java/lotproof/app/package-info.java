/** To be described. */
@NullMarked
package lotproof.app;

import org.jspecify.annotations.NullMarked;
