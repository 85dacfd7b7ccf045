package lotproof.statistics.components;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import lotproof.statistics.components.SimulatedDesign.Effects;
import lotproof.statistics.components.SimulatedDesign.Kind;
import org.apache.commons.rng.UniformRandomProvider;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * Measures the bound over all loads together. A kit's error curve is a gain error (cell and board),
 * a bow that only cells have, and noise at each of five loads. Writes target/guarantees-curves.md.
 */
@Tag("guarantee")
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
class CurveGuaranteeTest {
  private static final double[] LOADS = {0.2, 0.4, 0.6, 0.8, 1};
  private static final int POPULATION = 400_000;
  private static final int STUDIES = Math.min(1000, LimitsTally.STUDIES);

  private GuaranteeReport report;

  @BeforeAll
  void startReport() throws IOException {
    report = GuaranteeReport.start("guarantees-curves.md");
  }

  /** What a bow of one does at a load: none without load and at capacity. */
  private static double bow(double load) {
    return 4 * load * (1 - load);
  }

  private static double[] curve(double gain, double bow, UniformRandomProvider random) {
    double[] noise = Effects.NORMAL.draws(random, LOADS.length, 0.1);
    double[] curve = new double[LOADS.length];
    Arrays.setAll(curve, x -> gain * LOADS[x] + bow * bow(LOADS[x]) + noise[x]);
    return curve;
  }

  private static double[] largestOfFutureKits(Effects effects, double bowSd, double meanBow) {
    UniformRandomProvider random = Studies.random(LimitsTally.SEED);
    double[] cells = effects.draws(random, POPULATION, 1);
    double[] boards = effects.draws(random, POPULATION, 0.5);
    double[] bows = effects.draws(random, POPULATION, bowSd);
    double[] largest = new double[POPULATION];
    for (int i = 0; i < POPULATION; i++) {
      largest[i] = size(curve(cells[i] + boards[i], meanBow + bows[i], random));
    }
    Arrays.sort(largest);
    return largest;
  }

  private static double size(double[] curve) {
    return Arrays.stream(curve).map(Math::abs).max().orElseThrow();
  }

  @ParameterizedTest(name = "{0} n={1} bow {2} mean bow {3} content {4}")
  @CsvSource({
    "NORMAL, 20, 0.3, 0, 0.95",
    "NORMAL, 50, 0.3, 0, 0.95",
    "NORMAL, 50, 0.3, 0.5, 0.95",
    "NORMAL, 50, 1, 0, 0.95",
    "NORMAL, 50, 0.3, 0, 0.99",
    "LIGHT_SKEW, 50, 0.3, 0.5, 0.95",
  })
  void boundOfLargest(Effects effects, int units, double bowSd, double meanBow, double content)
      throws IOException {
    String name =
        String.format(
            Locale.ROOT,
            "%s, rotation n=%d, bow %.1f, mean bow %.1f",
            effects.name().toLowerCase(Locale.ROOT).replace('_', ' '),
            units,
            bowSd,
            meanBow);
    double[] kits = largestOfFutureKits(effects, bowSd, meanBow);
    double truth = kits[(int) Math.ceil(content * POPULATION) - 1];
    List<Double> sds = List.of(1.0, 0.5, 0.0, 0.0);
    SimulatedDesign design =
        new SimulatedDesign(Kind.ROTATION, units, 0, 0, 1, 0, sds).withEffects(effects);
    UniformRandomProvider random = Studies.random(LimitsTally.SEED + name.hashCode());
    List<Double> widths = new ArrayList<>();
    int held = 0;
    for (int i = 0; i < STUDIES; i++) {
      Observations gains = design.draw(random, 0);
      double[] bows = effects.draws(random, units, bowSd);
      RandomFactor cells = gains.factors().get(0);
      double[][] curves = new double[gains.size()][];
      for (int run = 0; run < curves.length; run++) {
        curves[run] = curve(gains.value(run), meanBow + bows[cells.level(run)], random);
      }
      FitOutcome outcome = CurveComponents.estimate(curves, gains.factors(), List.of());
      double inflation = Studies.inflation(curves, gains.factors(), LimitsTally.CONFIDENCE);
      double bound = ((CurveComponents) outcome).future(inflation, true).bound(content);
      held += bound >= truth ? 1 : 0;
      widths.add(bound / truth);
    }
    double confidence = held / (double) STUDIES;
    double median = widths.stream().sorted().toList().get(STUDIES / 2);
    report.row(
        String.format(
            Locale.ROOT, "| %s | %.2f | %.3f | %.2f |", name, content, confidence, median));
    double floor = effects == Effects.NORMAL ? LimitsTally.FLOOR : 0.85;
    assertThat(confidence)
        .as(name)
        .isGreaterThan(floor - 3 * Math.sqrt(floor * (1 - floor) / STUDIES));
  }
}
