package lotproof.spread;

import java.util.OptionalDouble;
import lotproof.statistics.Interval;

/**
 * How much of what is seen is the bench, and how many kinds of kit it tells apart.
 *
 * @param basis what it was computed from
 * @param degreesOfFreedom of the repeats
 * @param standardDeviation of measuring one kit, in the characteristic's unit
 * @param interval of that standard deviation
 * @param betweenBlocks the part between operators, days or sessions, kit by kit included; absent
 *     where kits were not crossed with a block
 * @param shareOfTotal measuring over the total, by standard deviations, in 0..1
 * @param shareOfTolerance 6 standard deviations over the width between the limits; absent without
 *     two limits
 * @param distinctCategories 1.41 x kits over measuring, by standard deviations; not rounded
 */
public record BenchShare(
    String basis,
    int degreesOfFreedom,
    double standardDeviation,
    Interval interval,
    OptionalDouble betweenBlocks,
    double shareOfTotal,
    OptionalDouble shareOfTolerance,
    double distinctCategories) {}
