package lotproof.spread;

/**
 * What the tested kits say without any assumption on the shape of the distribution (Wilks 1941):
 * order statistics of independent draws.
 *
 * @param testedKits kits with a value
 * @param disjointKits largest number of them that share no unit
 * @param smallest smallest value over the tested kits
 * @param largest largest value over the tested kits
 * @param largestSize largest absolute value over the tested kits
 * @param content fraction of kits that was asked for, in 0..1
 * @param confidenceOneLimit confidence that this content lies below the largest (or above the
 *     smallest, or within plus or minus the largest size), 1 - content^n
 * @param confidenceTwoLimits confidence that this content lies between smallest and largest
 * @param confidence confidence that was asked for, in 0..1
 * @param supportedContentOneLimit content that one extreme supports with that confidence, (1 -
 *     confidence)^(1/n)
 * @param kitsNeededOneLimit disjoint kits that would support the asked content with one extreme
 */
public record DistributionFreeLimits(
    int testedKits,
    int disjointKits,
    double smallest,
    double largest,
    double largestSize,
    double content,
    double confidenceOneLimit,
    double confidenceTwoLimits,
    double confidence,
    double supportedContentOneLimit,
    int kitsNeededOneLimit) {}
