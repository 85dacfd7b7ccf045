package lotproof.statistics.components;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Set;
import lotproof.statistics.Interval;
import lotproof.statistics.components.SimulatedDesign.Kind;
import org.apache.commons.rng.UniformRandomProvider;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * Measures how often the promised content is really held, over whole simulated studies. Runs with
 * {@code mvn -pl study/statistics test -Dsurefire.excludedGroups= -Dsurefire.groups=guarantee};
 * writes target/guarantees.md, from which docs/guarantees.md is made.
 */
@Tag("guarantee")
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
class GuaranteeTest {
  private static final long SEED = LimitsTally.SEED;
  private static final int STUDIES = LimitsTally.STUDIES;
  private static final double CONFIDENCE = LimitsTally.CONFIDENCE;

  private GuaranteeReport report;

  @BeforeAll
  void startReport() throws IOException {
    report = GuaranteeReport.start("guarantees.md");
  }

  private void measure(
      String name, SimulatedDesign design, boolean withReading, double content, double meanInSds)
      throws IOException {
    double sd = Math.sqrt(design.totalVariance(withReading));
    double mean = meanInSds * sd;
    Set<Component> excluded = withReading ? Set.of() : Set.of(Component.RESIDUAL);
    LimitsTally tally =
        LimitsTally.over(name, design, excluded, new KitPopulation.Normal(mean, sd), mean, content);
    report.row(tally.row(name, meanInSds));
    tally.check(name, LimitsTally.FLOOR);
  }

  @ParameterizedTest(name = "{0} content {6} mean {7}")
  @CsvSource({
    "disjoint pairs n=10, DISJOINT, 10, 0, 0, 1, 0.95, 0",
    "disjoint pairs n=20, DISJOINT, 20, 0, 0, 1, 0.95, 0",
    "disjoint pairs n=50, DISJOINT, 50, 0, 0, 1, 0.95, 0",
    "disjoint pairs n=50, DISJOINT, 50, 0, 0, 1, 0.99, 0",
    "rotation n=10, ROTATION, 10, 0, 0, 1, 0.95, 0",
    "rotation n=10 10 % missing, ROTATION, 10, 0.1, 0, 1, 0.95, 0",
    "rotation n=20, ROTATION, 20, 0, 0, 1, 0.95, 0",
    "rotation n=20, ROTATION, 20, 0, 0, 1, 0.95, 0.5",
    "rotation n=20, ROTATION, 20, 0, 0, 1, 0.95, 1",
    "rotation n=20, ROTATION, 20, 0, 0, 1, 0.99, 0",
    "rotation n=20 10 % missing, ROTATION, 20, 0.1, 0, 1, 0.95, 0",
    "rotation n=50, ROTATION, 50, 0, 0, 1, 0.95, 0",
    "rotation n=50, ROTATION, 50, 0, 0, 1, 0.95, 1",
    "rotation n=50, ROTATION, 50, 0, 0, 1, 0.99, 0",
    "rotation n=50 10 % missing, ROTATION, 50, 0.1, 0, 1, 0.95, 0",
    "rotation n=50 20 pairs twice, ROTATION, 50, 0, 20, 1, 0.95, 0",
    "blocks of 2 x 2 n=20, BLOCKS, 20, 0, 0, 1, 0.95, 0",
    "full crossing 6 x 6, CROSSED, 6, 0, 0, 1, 0.95, 0",
  })
  void withoutLots(
      String name,
      Kind kind,
      int units,
      double missing,
      int repeated,
      double boardScale,
      double content,
      double meanInSds)
      throws IOException {
    List<Double> sds = List.of(1.0, 0.5 * boardScale, 0.1, 0.2);
    SimulatedDesign design = new SimulatedDesign(kind, units, missing, repeated, 1, 0, sds);
    measure(name, design, true, content, meanInSds);
  }

  @ParameterizedTest(name = "{0} board {2} pair {3} reading {4}")
  @CsvSource({
    "rotation n=50 ratios 1:1:.1:.2, ROTATION, 1, 0.1, 0.2",
    "rotation n=50 ratios 1:.5:.3:.2, ROTATION, 0.5, 0.3, 0.2",
    "rotation n=50 ratios 1:.2:.1:.5, ROTATION, 0.2, 0.1, 0.5",
    "rotation n=50 ratios 1:.05:.02:.05, ROTATION, 0.05, 0.02, 0.05",
  })
  void otherRatios(String name, Kind kind, double board, double pair, double reading)
      throws IOException {
    List<Double> sds = List.of(1.0, board, pair, reading);
    measure(name, new SimulatedDesign(kind, 50, 0, 0, 1, 0, sds), true, 0.95, 0);
  }

  @ParameterizedTest(name = "{0}")
  @CsvSource({
    "reading excluded: rotation n=20 all twice sd .2, 20, 40, 0.2",
    "reading excluded: rotation n=20 10 pairs twice sd .2, 20, 10, 0.2",
    "reading excluded: rotation n=50 20 pairs twice sd .2, 50, 20, 0.2",
    "reading excluded: rotation n=50 20 pairs twice sd .5, 50, 20, 0.5",
  })
  void readingExcluded(String name, int units, int repeated, double reading) throws IOException {
    List<Double> sds = List.of(1.0, 0.5, 0.1, reading);
    SimulatedDesign design = new SimulatedDesign(Kind.ROTATION, units, 0, repeated, 1, 0, sds);
    measure(name, design, false, 0.95, 0);
  }

  @ParameterizedTest(name = "{0} lots of {1}, share {2}")
  @CsvSource({
    "2, 25, 0", "2, 25, 0.25", "2, 25, 0.5",
    "3, 16, 0", "3, 16, 0.25", "3, 16, 0.5",
    "5, 10, 0", "5, 10, 0.25", "5, 10, 0.5",
    "10, 5, 0", "10, 5, 0.25", "10, 5, 0.5",
  })
  void withLots(int lots, int unitsPerLot, double share) throws IOException {
    List<Double> sds = List.of(1.0, 0.5, 0.1, 0.2);
    SimulatedDesign design =
        new SimulatedDesign(Kind.ROTATION, lots * unitsPerLot, 0, 0, lots, share, sds);
    String name = String.format(Locale.ROOT, "lots %d x %d, share %.2f", lots, unitsPerLot, share);
    measure(name, design, true, 0.95, 0);
  }

  @ParameterizedTest(name = "profile intervals, {0} n={1}, adjusted {2}")
  @CsvSource({
    "ROTATION, 10, false",
    "ROTATION, 20, false",
    "ROTATION, 50, false",
    "BLOCKS, 20, false",
    "CROSSED, 6, false",
    "ROTATION, 10, true",
    "ROTATION, 20, true",
    "ROTATION, 50, true",
    "BLOCKS, 20, true",
    "CROSSED, 6, true",
  })
  void profileIntervals(Kind kind, int units, boolean adjusted) throws IOException {
    double reading = 0.22;
    List<Double> sds = List.of(1.0, 0.5, 0.0, reading);
    SimulatedDesign design = new SimulatedDesign(kind, units, 0, 0, 1, 0, sds);
    UniformRandomProvider random = Studies.random(SEED + units + kind.name().hashCode());
    double[] truth = {1.0, 0.5, reading};
    int[] held = new int[truth.length];
    double[] width = new double[truth.length];
    for (int i = 0; i < STUDIES; i++) {
      ComponentsFit fit = Studies.fit(design.draw(random, 0));
      List<Interval> intervals =
          adjusted
              ? ProfileIntervals.adjusted(fit, CONFIDENCE)
              : ProfileIntervals.ofStandardDeviations(fit, CONFIDENCE);
      for (int k = 0; k < truth.length; k++) {
        held[k] += intervals.get(k).contains(truth[k]) ? 1 : 0;
        width[k] += (intervals.get(k).upper() - intervals.get(k).lower()) / truth[k] / STUDIES;
      }
    }
    double[] shares = Arrays.stream(held).mapToDouble(h -> h / (double) STUDIES).toArray();
    report.row(
        String.format(
            Locale.ROOT,
            "| %s %s n=%d | %.3f | %.3f | %.3f | %.2f / %.2f / %.2f |",
            adjusted ? "adjusted" : "plain",
            kind.name().toLowerCase(Locale.ROOT),
            units,
            shares[0],
            shares[1],
            shares[2],
            width[0],
            width[1],
            width[2]));
    double floor = 0.90;
    for (double share : shares) {
      assertThat(share).isGreaterThan(floor - 3 * Math.sqrt(floor * (1 - floor) / STUDIES));
    }
  }
}
