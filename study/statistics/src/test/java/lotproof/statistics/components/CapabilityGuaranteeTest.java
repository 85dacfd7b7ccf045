package lotproof.statistics.components;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.OptionalDouble;
import lotproof.statistics.capability.Capability;
import lotproof.statistics.capability.CapabilityIndices;
import lotproof.statistics.capability.ProcessLimits;
import lotproof.statistics.components.SimulatedDesign.Kind;
import org.apache.commons.rng.UniformRandomProvider;
import org.apache.commons.rng.sampling.distribution.NormalizedGaussianSampler;
import org.apache.commons.rng.sampling.distribution.ZigguratSampler;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** How often the intervals of capability indices hold the true index where units come in lots. */
@Tag("guarantee")
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
class CapabilityGuaranteeTest {
  private static final double CONFIDENCE = LimitsTally.CONFIDENCE;

  /** Lowest confidence asked for. */
  private static final double FLOOR = 0.94;

  /** Limits at 4 standard deviations of a future unit about zero. */
  private static final double HALF_WIDTH = 4;

  private GuaranteeReport report;

  @BeforeAll
  void startReport() throws IOException {
    report = GuaranteeReport.start("guarantees-capability.md");
  }

  private interface Draw {
    Observations of(UniformRandomProvider random, double mean);
  }

  @ParameterizedTest(name = "{0} lots of {1}, share {2}, mean {3} sd")
  @CsvSource({
    "3, 10, 0.3, 0",
    "3, 10, 0.75, 0",
    "5, 10, 0.75, 0",
    "5, 10, 0.3, 1",
    "10, 5, 0.5, 0.5",
    "4, 12, 0, 0",
    "8, 3, 0.9, 1",
    "2, 25, 0.25, 0",
    "20, 2, 0.4, 2",
  })
  void unitsInLots(int lots, int unitsPerLot, double share, double mean) throws IOException {
    measure(
        String.format(
            Locale.ROOT, "%d lots of %d, share %.2f, mean %.1f", lots, unitsPerLot, share, mean),
        1,
        mean,
        (random, at) -> inLots(random, lots, unitsPerLot, share, at));
  }

  @ParameterizedTest(name = "rotation of {0} x {1}, share {2}, mean {3}")
  @CsvSource({"3, 16, 0.25, 0", "5, 10, 0.5, 1", "1, 20, 0, 0", "1, 50, 0, 1"})
  void kits(int lots, int unitsPerLot, double share, double mean) throws IOException {
    SimulatedDesign design =
        new SimulatedDesign(
            Kind.ROTATION, lots * unitsPerLot, 0, 0, lots, share, List.of(1.0, 0.5, 0.1, 0.2));
    measure(
        String.format(
            Locale.ROOT,
            "rotation, %d lots of %d, share %.2f, mean %.1f",
            lots,
            unitsPerLot,
            share,
            mean),
        Math.sqrt(design.totalVariance(true)),
        mean,
        design::draw);
  }

  private static Observations inLots(
      UniformRandomProvider random, int lots, int unitsPerLot, double share, double mean) {
    NormalizedGaussianSampler normal = ZigguratSampler.NormalizedGaussian.of(random);
    double[] values = new double[lots * unitsPerLot];
    List<Integer> lotOf = new ArrayList<>();
    double[] lot = Studies.draws(normal, lots, Math.sqrt(share));
    for (int i = 0; i < values.length; i++) {
      lotOf.add(i / unitsPerLot);
      values[i] = mean + lot[lotOf.get(i)] + Math.sqrt(1 - share) * normal.sample();
    }
    return new Observations(values, List.of(Studies.numbered("lot", lotOf)));
  }

  private void measure(String name, double sd, double meanInSds, Draw draw) throws IOException {
    ProcessLimits limits =
        new ProcessLimits(OptionalDouble.of(-HALF_WIDTH * sd), OptionalDouble.of(HALF_WIDTH * sd));
    double pp = HALF_WIDTH / 3;
    double ppk = (HALF_WIDTH - meanInSds) / 3;
    UniformRandomProvider random = Studies.random(LimitsTally.SEED + name.hashCode());
    int[] held = new int[3];
    List<Double> bounds = new ArrayList<>();
    for (int i = 0; i < LimitsTally.STUDIES; i++) {
      FitOutcome outcome = ComponentsFitter.fit(draw.of(random, meanInSds * sd), FitOptions.REML);
      CapabilityIndices c = indices((ComponentsFit) outcome, limits);
      held[0] += c.ppkLowerBound() <= ppk ? 1 : 0;
      held[1] += c.ppkInterval().contains(ppk) ? 1 : 0;
      held[2] += c.ppInterval().orElseThrow().contains(pp) ? 1 : 0;
      bounds.add(c.ppkLowerBound() / ppk);
    }
    double studies = LimitsTally.STUDIES;
    report.row(
        String.format(
            Locale.ROOT,
            "| %s | %.3f | %.3f | %.3f | %.2f |",
            name,
            held[0] / studies,
            held[1] / studies,
            held[2] / studies,
            bounds.stream().sorted().toList().get(bounds.size() / 2)));
    double allowed = FLOOR - 3 * Math.sqrt(FLOOR * (1 - FLOOR) / studies);
    for (int count : held) {
      assertThat(count / studies).as(name).isGreaterThan(allowed);
    }
  }

  private static CapabilityIndices indices(ComponentsFit fit, ProcessLimits limits) {
    List<FutureUnitLimits.Part> unit =
        List.of(new FutureUnitLimits.Part(fit, ComponentWeights.ALL));
    return Capability.of(
        new FutureUnit(unit, 0, CONFIDENCE),
        new FutureUnit(unit, 0, (1 + CONFIDENCE) / 2),
        limits,
        CONFIDENCE);
  }
}
