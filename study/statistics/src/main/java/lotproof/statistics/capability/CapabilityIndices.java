package lotproof.statistics.capability;

import java.util.Optional;
import java.util.OptionalDouble;
import lotproof.statistics.Interval;

/**
 * How a process lies within its limits. Names follow ISO 22514: P indices describe performance over
 * everything that was measured; the same numbers are called C indices where the standard deviation
 * is that within a process shown to be stable. The bounds have the confidence of the intervals.
 *
 * @param pp (upper - lower) / (6 s); present with both limits
 * @param ppInterval confidence interval of pp
 * @param ppkLower (mean - lower) / (3 s); present with a lower limit
 * @param ppkUpper (upper - mean) / (3 s); present with an upper limit
 * @param ppk the smaller of the two one-sided indices
 * @param ppkInterval two-sided confidence interval of ppk
 * @param ppkLowerBound one-sided lower confidence bound of ppk
 * @param fractionBelow estimated fraction below the lower limit if the population is normal; 0
 *     without that limit
 * @param fractionAbove estimated fraction above the upper limit if the population is normal; 0
 *     without that limit
 * @param nearerFractionUpperBound one-sided upper confidence bound of the fraction beyond the
 *     nearer limit if the population is normal
 */
public record CapabilityIndices(
    OptionalDouble pp,
    Optional<Interval> ppInterval,
    OptionalDouble ppkLower,
    OptionalDouble ppkUpper,
    double ppk,
    Interval ppkInterval,
    double ppkLowerBound,
    double fractionBelow,
    double fractionAbove,
    double nearerFractionUpperBound) {}
