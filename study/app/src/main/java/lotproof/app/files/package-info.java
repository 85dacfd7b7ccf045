/** Kinds of file beyond plain text: adapters between libraries for them and the engine's port. */
@NullMarked
package lotproof.app.files;

import org.jspecify.annotations.NullMarked;
