/** Files of any kind as rows of cells, with how they were read and what people said about them. */
@NullMarked
package lotproof.gather.tables;

import org.jspecify.annotations.NullMarked;
