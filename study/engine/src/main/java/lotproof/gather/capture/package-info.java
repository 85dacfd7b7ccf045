/**
 * Raw captures: a stream of converter codes with or without a clock, as a terminal or a logger
 * wrote it. What a capture leaves open is asked for by the name of an option, never guessed; what
 * is not a sample is counted and shown with its line.
 */
@NullMarked
package lotproof.gather.capture;

import org.jspecify.annotations.NullMarked;
