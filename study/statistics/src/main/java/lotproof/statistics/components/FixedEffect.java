package lotproof.statistics.components;

/**
 * Estimated change of the value for one unit of a fixed column.
 *
 * @param name name of the column
 * @param estimate change for one unit of the column
 * @param standardError of the estimate, variances taken as known
 */
public record FixedEffect(String name, double estimate, double standardError) {}
