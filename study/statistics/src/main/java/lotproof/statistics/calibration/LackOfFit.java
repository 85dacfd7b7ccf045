package lotproof.statistics.calibration;

/**
 * The test whether a curve misses the points by more than repeated readings scatter.
 *
 * <p>F = (lack-of-fit sum of squares / its df) / (pure-error sum of squares / its df); pure error
 * is the scatter of readings at one and the same load.
 *
 * @param statistic F
 * @param lackDegreesOfFreedom number of different loads less the number of coefficients
 * @param pureErrorDegreesOfFreedom number of readings less the number of different loads
 * @param pValue the chance of so large an F when the curve is right
 * @param pureErrorSd standard deviation of repeated readings
 */
public record LackOfFit(
    double statistic,
    int lackDegreesOfFreedom,
    int pureErrorDegreesOfFreedom,
    double pValue,
    double pureErrorSd) {}
