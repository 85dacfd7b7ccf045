package lotproof.statistics.conformity;

/**
 * The two ways to decide wrongly, as fractions of all items made.
 *
 * @param consumer accepted though outside the tolerance zone
 * @param producer rejected though inside the tolerance zone
 */
public record Risks(double consumer, double producer) {}
