/** How a process lies within its limits: performance indices and fractions outside. */
@NullMarked
package lotproof.statistics.capability;

import org.jspecify.annotations.NullMarked;
