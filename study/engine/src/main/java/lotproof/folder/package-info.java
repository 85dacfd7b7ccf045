/**
 * The study folder on disk: study.yaml, readings.csv, decisions.csv and the captures. Reads all of
 * it, adds to the record whole files at a time, and never repairs anything.
 */
@NullMarked
package lotproof.folder;

import org.jspecify.annotations.NullMarked;
