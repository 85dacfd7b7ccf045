/** study.yaml: text to the definition of a study and back, with every fault named by its place. */
@NullMarked
package lotproof.folder.definition;

import org.jspecify.annotations.NullMarked;
