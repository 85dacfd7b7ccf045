package lotproof.statistics.capability;

import java.util.Arrays;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.DoubleUnaryOperator;
import java.util.stream.DoubleStream;
import lotproof.statistics.Checks;
import lotproof.statistics.DistributionQuantiles;
import lotproof.statistics.Interval;
import lotproof.statistics.components.FutureUnit;
import lotproof.statistics.tolerance.NormalTolerance;
import org.apache.commons.statistics.distribution.NormalDistribution;

/**
 * Performance indices of a characteristic against its limits.
 *
 * <p>Formulas, with mean m, standard deviation s on nu degrees of freedom, effective number n of
 * values behind the mean:
 *
 * <ul>
 *   <li>pp = (U - L) / (6 s); interval pp sqrt(chi-square(nu) / nu) at both tails, exact for normal
 *       values.
 *   <li>ppk = min((m - L), (U - m)) / (3 s); interval ppk ± z sqrt(1/(9n) + ppk²/(2 nu)), a normal
 *       approximation (Bissell 1990).
 *   <li>exact lower bound: the C with Pr(T(nu, 3 C sqrt(n)) ≤ 3 ppk sqrt(n)) = confidence, with the
 *       non-central Student T. Exact for the index at one limit; for the smaller of two it is the
 *       bound at the limit that the sample shows to be nearer.
 * </ul>
 *
 * <p>Units of several sources, such as lots: {@link FutureUnit}.
 *
 * <p>Assumptions: a normal population and independent values. An index says nothing where the
 * population is not normal, and nothing about lots that were not measured. The interval of ppk is
 * always that of the smaller index: taking the smaller of two interval ends separately gives an
 * index too low, a mistake found in print.
 *
 * <p>Sources: NIST/SEMATECH e-Handbook, 6.1.6; ISO 22514-2 (names, from memory); A. F. Bissell,
 * Applied Statistics 39 (1990) 331-340 (from memory).
 */
public final class Capability {
  private static final NormalDistribution NORMAL = NormalDistribution.of(0, 1);

  private Capability() {}

  /**
   * The indices of a mean and a standard deviation.
   *
   * @param mean estimated mean
   * @param sd estimated standard deviation, above 0
   * @param degreesOfFreedom of the standard deviation
   * @param n effective number of values behind the mean, sigma² / Var(mean)
   * @param limits the limits
   * @param confidence in 0..1
   */
  public static CapabilityIndices of(
      double mean,
      double sd,
      double degreesOfFreedom,
      double n,
      ProcessLimits limits,
      double confidence) {
    Checks.finite(mean, "mean");
    Checks.positive(sd, "sd");
    Checks.positive(degreesOfFreedom, "degreesOfFreedom");
    Checks.positive(n, "n");
    Checks.fraction(confidence, "confidence");
    OptionalDouble lower = index(limits.lower(), value -> (mean - value) / (3 * sd));
    OptionalDouble upper = index(limits.upper(), value -> (value - mean) / (3 * sd));
    double ppk =
        Math.min(lower.orElse(Double.POSITIVE_INFINITY), upper.orElse(Double.POSITIVE_INFINITY));
    double exactQuantile =
        NormalTolerance.oneSidedContentQuantile(n, degreesOfFreedom, 3 * ppk, confidence);
    OptionalDouble width = width(limits);
    OptionalDouble pp = index(width, value -> value / (6 * sd));
    return new CapabilityIndices(
        pp,
        interval(pp, degreesOfFreedom, confidence),
        lower,
        upper,
        ppk,
        approximateInterval(ppk, degreesOfFreedom, n, confidence),
        exactQuantile / 3,
        tail(lower),
        tail(upper),
        NORMAL.survivalProbability(exactQuantile));
  }

  /**
   * The indices of units whose spread has several sources, such as lots: modified large sample
   * limits of mean and standard deviation take the place of the exact ones. The bound of ppk is the
   * smaller of those at both limits, so that it holds whichever is the nearer one.
   *
   * @param oneSided of the bounds' confidence
   * @param twoSided of half of what the confidence leaves, for the ends of intervals
   * @param confidence of bounds and intervals
   */
  public static CapabilityIndices of(
      FutureUnit oneSided, FutureUnit twoSided, ProcessLimits limits, double confidence) {
    double mean = oneSided.mean();
    double sd = Checks.positive(oneSided.fittedSd(), "sd");
    OptionalDouble lower = index(limits.lower(), value -> (mean - value) / (3 * sd));
    OptionalDouble upper = index(limits.upper(), value -> (value - mean) / (3 * sd));
    OptionalDouble width = width(limits);
    double[] distances =
        DoubleStream.concat(
                limits.lower().stream().map(value -> mean - value),
                limits.upper().stream().map(value -> value - mean))
            .toArray();
    double bound = least(distances, oneSided::standardized);
    return new CapabilityIndices(
        index(width, value -> value / (6 * sd)),
        width.isPresent()
            ? Optional.of(
                new Interval(
                    width.getAsDouble() / (6 * twoSided.sdUpper()),
                    width.getAsDouble() / (6 * twoSided.sdLower()),
                    confidence))
            : Optional.empty(),
        lower,
        upper,
        least(distances, distance -> distance / (3 * sd)),
        new Interval(
            least(distances, twoSided::standardized) / 3,
            least(distances, distance -> -twoSided.standardized(-distance)) / 3,
            confidence),
        bound / 3,
        tail(lower),
        tail(upper),
        NORMAL.survivalProbability(bound));
  }

  private static double least(double[] distances, DoubleUnaryOperator formula) {
    return Arrays.stream(distances).map(formula).min().orElseThrow();
  }

  private static OptionalDouble index(OptionalDouble limit, DoubleUnaryOperator formula) {
    return limit.stream().map(formula).findFirst();
  }

  private static OptionalDouble width(ProcessLimits limits) {
    return limits.lower().isPresent() && limits.upper().isPresent()
        ? OptionalDouble.of(limits.upper().getAsDouble() - limits.lower().getAsDouble())
        : OptionalDouble.empty();
  }

  private static Optional<Interval> interval(
      OptionalDouble index, double degreesOfFreedom, double confidence) {
    if (index.isEmpty()) {
      return Optional.empty();
    }
    double tail = (1 - confidence) / 2;
    double low = DistributionQuantiles.chiSquare(degreesOfFreedom, tail) / degreesOfFreedom;
    double high = DistributionQuantiles.chiSquareUpper(degreesOfFreedom, tail) / degreesOfFreedom;
    return Optional.of(
        new Interval(
            index.getAsDouble() * Math.sqrt(low),
            index.getAsDouble() * Math.sqrt(high),
            confidence));
  }

  private static Interval approximateInterval(
      double ppk, double degreesOfFreedom, double n, double confidence) {
    double z = DistributionQuantiles.normalUpper((1 - confidence) / 2);
    double half = z * Math.sqrt(1 / (9 * n) + ppk * ppk / (2 * degreesOfFreedom));
    return new Interval(ppk - half, ppk + half, confidence);
  }

  private static double tail(OptionalDouble oneSidedIndex) {
    return oneSidedIndex.isPresent()
        ? NORMAL.survivalProbability(3 * oneSidedIndex.getAsDouble())
        : 0;
  }
}
