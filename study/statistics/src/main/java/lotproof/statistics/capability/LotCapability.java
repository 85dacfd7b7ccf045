package lotproof.statistics.capability;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import lotproof.statistics.Checks;
import lotproof.statistics.Interval;

/**
 * How lots lie within the limits, twice: by the spread within lots alone, and by the spread over
 * everything that was measured.
 *
 * <p>Within (C indices): the pooled standard deviation of the lots, N - L degrees of freedom. It
 * shows what the process could do if all lots were alike; a buyer does not get that. Overall (P
 * indices): variance tau² = MSB/n0 + (1 - 1/n0) MSW from the one-way analysis, which is the
 * variance of a unit from a lot taken at random. Where MSB does not exceed MSW both are replaced by
 * the variance of all values, but the lots keep their few degrees of freedom: a lot effect that
 * does not show is not shown to be absent.
 *
 * <p>Intervals of tau are modified large sample: tau² ± sqrt(sum of (a MS H)²) with H = nu /
 * chi-square - 1 at the tail, mean square by mean square. Plugging Satterthwaite's degrees of
 * freedom into one-sample formulas was tried and measured: 89 % instead of 95 % for eight lots of
 * six with half of the variance between lots.
 *
 * <p>The lower bound of ppk is the C with (limit - mean)/tau = 3 C + sqrt((t w/tau)² + 9 C²
 * (tauU/tau - 1)²), w² = MSB/N the variance of the mean, t Student's quantile on L - 1 degrees of
 * freedom. With two or three lots it is low, and it should be.
 *
 * <p>Sources: ISO 22514-1 and -2 (C and P indices, from memory); F. A. Graybill and C.-M. Wang,
 * Journal of the American Statistical Association 75 (1980) 869-873 (intervals of sums of
 * variances, from memory); the bound combines the two as the claim does and is supported by
 * simulation.
 *
 * @param lots number of lots
 * @param values number of values
 * @param withinSd pooled standard deviation within lots
 * @param overallSd tau, the standard deviation of a unit from a lot taken at random
 * @param within C indices, by the standard deviation within lots
 * @param overall P indices, by tau
 */
public record LotCapability(
    int lots,
    int values,
    double withinSd,
    double overallSd,
    CapabilityIndices within,
    Overall overall) {

  /**
   * Indices over everything that was measured.
   *
   * @param pp (upper - lower) / (6 tau); present with both limits
   * @param ppInterval confidence interval of pp
   * @param ppkLower (mean - lower) / (3 tau); present with a lower limit
   * @param ppkUpper (upper - mean) / (3 tau); present with an upper limit
   * @param ppk the smaller of the two
   * @param ppkLowerBound one-sided lower confidence bound of the index at the nearer limit
   * @param fractionBelow estimated fraction below the lower limit if everything is normal
   * @param fractionAbove estimated fraction above the upper limit if everything is normal
   * @param confidence of interval and bound
   */
  public record Overall(
      OptionalDouble pp,
      Optional<Interval> ppInterval,
      OptionalDouble ppkLower,
      OptionalDouble ppkUpper,
      double ppk,
      double ppkLowerBound,
      double fractionBelow,
      double fractionAbove,
      double confidence) {}

  /**
   * Both sets of indices.
   *
   * @param lots two or more lots of two or more values, whose values differ within some lot
   * @param limits the limits
   * @param confidence in 0..1
   */
  public static LotCapability of(List<double[]> lots, ProcessLimits limits, double confidence) {
    Checks.fraction(confidence, "confidence");
    LotSpread spread = LotSpread.of(lots);
    CapabilityIndices within =
        Capability.of(
            spread.mean(),
            Math.sqrt(spread.withinMeanSquare()),
            spread.unitDf(),
            spread.values(),
            limits,
            confidence);
    // The estimates need no degrees of freedom; the intervals below do not come from this call.
    CapabilityIndices plain =
        Capability.of(
            spread.mean(), spread.tau(), spread.unitDf(), spread.values(), limits, confidence);
    double tail = (1 - confidence) / 2;
    Optional<Interval> ppInterval = Optional.empty();
    if (plain.pp().isPresent()) {
      double scaled = plain.pp().getAsDouble() * spread.tau();
      double least = spread.tauLower(1 - tail);
      ppInterval =
          Optional.of(
              new Interval(
                  scaled / spread.tauUpper(1 - tail),
                  least > 0 ? scaled / least : Double.POSITIVE_INFINITY,
                  confidence));
    }
    Overall overall =
        new Overall(
            plain.pp(),
            ppInterval,
            plain.ppkLower(),
            plain.ppkUpper(),
            plain.ppk(),
            spread.quantileLowerBound(3 * plain.ppk(), confidence) / 3,
            plain.fractionBelow(),
            plain.fractionAbove(),
            confidence);
    return new LotCapability(
        spread.lots(),
        spread.values(),
        Math.sqrt(spread.withinMeanSquare()),
        spread.tau(),
        within,
        overall);
  }
}
