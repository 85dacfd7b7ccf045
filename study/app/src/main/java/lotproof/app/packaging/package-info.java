/** What the build does to the jars of the program, so that every start of it is quick. */
@NullMarked
package lotproof.app.packaging;

import org.jspecify.annotations.NullMarked;
