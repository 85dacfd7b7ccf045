package lotproof.spread;

import java.util.Optional;
import lotproof.model.Role;
import lotproof.statistics.Interval;

/**
 * One source of variation.
 *
 * @param role what it stands for
 * @param title name shown to people
 * @param levels how many units, lots or values it rests on
 * @param standardDeviation estimate, 0 or above, in the characteristic's unit
 * @param interval profile-likelihood interval of that standard deviation; absent where it was not
 *     asked for
 * @param variance square of the estimate
 * @param unconstrainedVariance the variance that the data alone would give; below zero when the
 *     data show less variation than the finer sources explain
 * @param shareFraction its part of the total variance, in 0..1
 * @param atBoundary the estimate is zero because it cannot be negative: not detectable, not absent
 */
public record Component(
    Role role,
    String title,
    int levels,
    double standardDeviation,
    Optional<Interval> interval,
    double variance,
    double unconstrainedVariance,
    double shareFraction,
    boolean atBoundary) {}
