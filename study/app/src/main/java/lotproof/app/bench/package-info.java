/** Commands for the bench: plan and rehearse a study, take readings in, see how it stands. */
@NullMarked
package lotproof.app.bench;

import org.jspecify.annotations.NullMarked;
