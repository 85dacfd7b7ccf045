package lotproof.statistics.components;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.OptionalDouble;
import lotproof.statistics.capability.Capability;
import lotproof.statistics.capability.CapabilityIndices;
import lotproof.statistics.capability.ProcessLimits;
import org.apache.commons.statistics.distribution.ChiSquaredDistribution;
import org.apache.commons.statistics.distribution.TDistribution;
import org.junit.jupiter.api.Test;

/**
 * Indices of 4 lots of 3 units by the mean squares of the analysis of variance: within 1 on 8
 * degrees of freedom, between 14 on 3.
 */
class LotCapabilityTest {
  private static final double WITHIN = 1;
  private static final double BETWEEN = 14;
  private static final double MEAN = 12;
  private static final double VARIANCE = (BETWEEN + 2 * WITHIN) / 3;
  private static final double LOWER = 0;
  private static final double UPPER = 30;

  private final CapabilityIndices indices = indices();

  private static CapabilityIndices indices() {
    double[] values = {9, 10, 11, 11, 12, 13, 10, 11, 12, 14, 15, 16};
    ComponentsFit fit =
        (ComponentsFit)
            ComponentsFitter.fit(
                new Observations(
                    values,
                    List.of(Studies.numbered("lot", List.of(0, 0, 0, 1, 1, 1, 2, 2, 2, 3, 3, 3)))),
                FitOptions.REML);
    List<FutureUnitLimits.Part> unit =
        List.of(new FutureUnitLimits.Part(fit, ComponentWeights.ALL));
    return Capability.of(
        new FutureUnit(unit, 0, 0.95),
        new FutureUnit(unit, 0, 0.975),
        new ProcessLimits(OptionalDouble.of(LOWER), OptionalDouble.of(UPPER)),
        0.95);
  }

  /** Upper limit of the standard deviation, Graybill and Wang (1980). */
  private static double sdUpper(double confidence) {
    double between =
        BETWEEN
            / 3
            * (3 / ChiSquaredDistribution.of(3).inverseCumulativeProbability(1 - confidence) - 1);
    double within =
        2
            * WITHIN
            / 3
            * (8 / ChiSquaredDistribution.of(8).inverseCumulativeProbability(1 - confidence) - 1);
    return Math.sqrt(VARIANCE + Math.hypot(between, within));
  }

  /** Lower limit of the standard deviation of the same kind. */
  private static double sdLower(double confidence) {
    double between =
        BETWEEN
            / 3
            * (1 - 3 / ChiSquaredDistribution.of(3).inverseCumulativeProbability(confidence));
    double within =
        2
            * WITHIN
            / 3
            * (1 - 8 / ChiSquaredDistribution.of(8).inverseCumulativeProbability(confidence));
    return Math.sqrt(VARIANCE - Math.hypot(between, within));
  }

  /** How far the mean may be off: between lots, on 3 degrees of freedom. */
  private static double meanMargin(double confidence) {
    double inflation = Math.min(1.2, Math.sqrt(sdUpper(confidence) / Math.sqrt(VARIANCE)));
    return TDistribution.of(3).inverseCumulativeProbability(confidence)
        * Math.sqrt(BETWEEN / 12)
        * inflation;
  }

  @Test
  void theIndicesAreThoseOfTheMeanSquares() {
    double sd = Math.sqrt(VARIANCE);
    assertThat(indices.pp().orElseThrow()).isCloseTo((UPPER - LOWER) / (6 * sd), within(1e-6));
    assertThat(indices.ppk()).isCloseTo((MEAN - LOWER) / (3 * sd), within(1e-6));
    assertThat(indices.ppkUpper().orElseThrow()).isCloseTo((UPPER - MEAN) / (3 * sd), within(1e-6));
  }

  @Test
  void theIntervalOfPpIsThatOfTheStandardDeviation() {
    assertThat(indices.ppInterval().orElseThrow().lower())
        .isCloseTo((UPPER - LOWER) / (6 * sdUpper(0.975)), within(1e-5));
    assertThat(indices.ppInterval().orElseThrow().upper())
        .isCloseTo((UPPER - LOWER) / (6 * sdLower(0.975)), within(1e-5));
  }

  /** At the bound the one-sided limit for that share of units lies at the specification limit. */
  @Test
  void theBoundsOfPpkPutTheLimitsOfAFutureUnitAtTheSpecification() {
    double sd = Math.sqrt(VARIANCE);
    double bound = 3 * indices.ppkLowerBound();
    assertThat(bound * sd + Math.hypot(meanMargin(0.95), bound * (sdUpper(0.95) - sd)))
        .isCloseTo(MEAN - LOWER, within(1e-4));
    double low = 3 * indices.ppkInterval().lower();
    assertThat(low * sd + Math.hypot(meanMargin(0.975), low * (sdUpper(0.975) - sd)))
        .isCloseTo(MEAN - LOWER, within(1e-4));
    double high = 3 * indices.ppkInterval().upper();
    assertThat(high * sd - Math.hypot(meanMargin(0.975), high * (sd - sdLower(0.975))))
        .isCloseTo(MEAN - LOWER, within(1e-4));
  }
}
