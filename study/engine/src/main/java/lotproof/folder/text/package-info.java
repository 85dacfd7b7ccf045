/** What is read of files and written to them: lines of fields, columns, units of measure, names. */
@NullMarked
package lotproof.folder.text;

import org.jspecify.annotations.NullMarked;
