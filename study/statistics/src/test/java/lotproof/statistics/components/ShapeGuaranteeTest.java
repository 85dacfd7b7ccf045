package lotproof.statistics.components;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.stream.IntStream;
import lotproof.statistics.shape.AndersonDarling;
import org.apache.commons.rng.UniformRandomProvider;
import org.apache.commons.rng.sampling.distribution.NormalizedGaussianSampler;
import org.apache.commons.rng.sampling.distribution.ZigguratSampler;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** How often "not normal" is said of normal units that share lots. */
@Tag("guarantee")
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
class ShapeGuaranteeTest {
  private static final int STUDIES = Integer.getInteger("guarantee.studies", 2000) / 4;
  private static final double LEVEL = 0.05;

  private GuaranteeReport report;

  @BeforeAll
  void startReport() throws IOException {
    report = GuaranteeReport.start("guarantees-shape.md");
  }

  @ParameterizedTest(name = "{0} lots of {1}, share {2}")
  @CsvSource({
    "1, 50, 0",
    "3, 16, 0.25",
    "3, 16, 0.75",
    "5, 10, 0.5",
    "5, 10, 0.9",
    "10, 5, 0.75",
    "2, 12, 0.5",
    "4, 5, 0.8",
  })
  void normalUnits(int lots, int unitsPerLot, double share) throws IOException {
    UniformRandomProvider random = Studies.random(LimitsTally.SEED + 100L * lots + unitsPerLot);
    NormalizedGaussianSampler normal = ZigguratSampler.NormalizedGaussian.of(random);
    int fromDraws = 0;
    int fromTable = 0;
    for (int s = 0; s < STUDIES; s++) {
      double[] lot = Studies.draws(normal, lots, Math.sqrt(share));
      double[] values = new double[lots * unitsPerLot];
      List<Integer> lotOf = new ArrayList<>();
      for (int i = 0; i < values.length; i++) {
        lotOf.add(i / unitsPerLot);
        values[i] = lot[i / unitsPerLot] + Math.sqrt(1 - share) * normal.sample();
      }
      List<RandomFactor> factors = lots == 1 ? List.of() : List.of(Studies.numbered("lot", lotOf));
      ComponentsFit fit =
          (ComponentsFit) ComponentsFitter.fit(new Observations(values, factors), FitOptions.REML);
      int[] all = IntStream.range(0, values.length).toArray();
      fromDraws += NormalEffects.test(fit, all).pValue() < LEVEL ? 1 : 0;
      fromTable += AndersonDarling.test(values).pValue() < LEVEL ? 1 : 0;
    }
    double studies = STUDIES;
    report.row(
        String.format(
            Locale.ROOT,
            "| %d lots of %d, share %.2f | %.3f | %.3f |",
            lots,
            unitsPerLot,
            share,
            fromTable / studies,
            fromDraws / studies));
    assertThat(fromDraws / studies)
        .isLessThan(LEVEL + 3 * Math.sqrt(LEVEL * (1 - LEVEL) / studies));
  }
}
