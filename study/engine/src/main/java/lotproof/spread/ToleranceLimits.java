package lotproof.spread;

/**
 * Limits that a future kit keeps, by the model of normal components.
 *
 * @param content fraction of future kits meant, in 0..1
 * @param confidence probability that the statement is right, in 0..1
 * @param onlyAbove the content lies above this value (one-sided)
 * @param onlyBelow the content lies below this value (one-sided)
 * @param lower the content lies between this and {@code upper}, which are centred on the mean
 * @param upper see {@code lower}
 * @param aboutZero the content lies within plus or minus this value of zero
 * @param meanStandardError standard error of the mean
 * @param totalStandardDeviation estimated standard deviation of a future kit
 * @param totalUpperLimit upper confidence limit of that standard deviation
 * @param effectiveDegreesOfFreedom Satterthwaite's, for the total
 * @param method how they were computed, in a sentence
 */
public record ToleranceLimits(
    double content,
    double confidence,
    double onlyAbove,
    double onlyBelow,
    double lower,
    double upper,
    double aboutZero,
    double meanStandardError,
    double totalStandardDeviation,
    double totalUpperLimit,
    double effectiveDegreesOfFreedom,
    String method) {}
