/** How work is shared out between the cores. */
@NullMarked
package lotproof.work;

import org.jspecify.annotations.NullMarked;
