package lotproof.spread;

import lotproof.statistics.Interval;

/**
 * How a known influence moves the values, estimated together with the components.
 *
 * @param influence what moves them
 * @param per for what the change is: one unit of the covariate, or a block against the first one
 * @param estimate the change, in the characteristic's unit
 * @param standardError of the estimate
 * @param degreesOfFreedom Satterthwaite's
 * @param interval of the change
 * @param toldFromZero whether the interval leaves zero out
 */
public record InfluenceEffect(
    String influence,
    String per,
    double estimate,
    double standardError,
    double degreesOfFreedom,
    Interval interval,
    boolean toldFromZero) {}
