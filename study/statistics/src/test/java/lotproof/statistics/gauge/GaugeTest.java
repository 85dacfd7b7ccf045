package lotproof.statistics.gauge;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Random;
import lotproof.statistics.Interval;
import lotproof.statistics.Oracle;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class GaugeTest {
  private static final Oracle ORACLE = Oracle.load("gauge");

  @AfterAll
  static void everyExpectedValueWasChecked() {
    ORACLE.assertAllUsed();
  }

  private static List<GaugeReading> readings() {
    return Oracle.table("aiag_msa_10x3x3.csv").stream()
        .map(
            row ->
                new GaugeReading(
                    row.getField("part"),
                    row.getField("appraiser"),
                    Double.parseDouble(row.getField("y"))))
        .toList();
  }

  @Test
  void analysisOfVariance() {
    GaugeStudy study = GaugeStudy.withInteraction(readings());
    ORACLE.check("M1", "SS operator", study.operator().sumOfSquares());
    ORACLE.check("M1", "SS part", study.part().sumOfSquares());
    ORACLE.check("M1", "SS interaction", study.interaction().sumOfSquares());
    ORACLE.check("M1", "SS repeat", study.repeat().sumOfSquares());
    ORACLE.check("M1", "SS total", study.totalSumOfSquares());
    assertThat(study.operator().degreesOfFreedom()).isEqualTo(2);
    assertThat(study.part().degreesOfFreedom()).isEqualTo(9);
    assertThat(study.interaction().degreesOfFreedom()).isEqualTo(18);
    assertThat(study.repeat().degreesOfFreedom()).isEqualTo(60);
    double repeat = study.repeat().meanSquare();
    ORACLE.check("M1", "F operator on repeat", study.operator().meanSquare() / repeat);
    ORACLE.check("M1", "F part on repeat", study.part().meanSquare() / repeat);
    ORACLE.check("M1", "F interaction", study.interaction().statistic().orElseThrow());
    ORACLE.check("M1", "p interaction", study.interaction().pValue().orElseThrow());
    ORACLE.check("M1", "F operator on interaction", study.operator().statistic().orElseThrow());
    ORACLE.check("M1", "F part on interaction", study.part().statistic().orElseThrow());
  }

  @Test
  void pooledComponents() {
    GaugeStudy study = GaugeStudy.poolingAbove(readings(), 0.25);
    assertThat(study.interactionPooled()).isTrue();
    assertThat(study.interactionComponent()).isEmpty();
    ORACLE.check("M2", "EV", study.repeatability().sd());
    ORACLE.check("M2", "AV", study.operatorComponent().sd());
    ORACLE.check("M2", "GRR", study.measuringSd());
    ORACLE.check("M2", "PV", study.partComponent().sd());
    ORACLE.check("M2", "TV", study.totalSd());
    ORACLE.check("M2", "% GRR", 100 * study.measuringShare());
    ORACLE.check("M2", "categories", study.distinctCategories());
    assertThat(study.toleranceShare(6)).isCloseTo(study.measuringSd(), within(1e-15));
    assertThat(study.operator().statistic()).isPresent();
  }

  @Test
  void intervalsOfMeasuringAndOfRepeats() {
    for (double confidence : new double[] {0.95, 0.8}) {
      checkIntervals("full " + confidence, GaugeStudy.withInteraction(readings()), confidence);
      checkIntervals("pooled " + confidence, GaugeStudy.pooled(readings()), confidence);
    }
  }

  private static void checkIntervals(String which, GaugeStudy study, double confidence) {
    ORACLE.check("M9", which + " measuring lower", study.measuringInterval(confidence).lower());
    ORACLE.check("M9", which + " measuring upper", study.measuringInterval(confidence).upper());
    ORACLE.check("M9", which + " repeat lower", study.repeatabilityInterval(confidence).lower());
    ORACLE.check("M9", which + " repeat upper", study.repeatabilityInterval(confidence).upper());
  }

  /** Interaction at the bound: the likelihood pools by itself (oracle case L8 agrees). */
  @Test
  void byLikelihoodAsByPooledMeanSquares() {
    GaugeFit fit = (GaugeFit) GaugeFit.of(readings());
    GaugeStudy pooled = GaugeStudy.pooled(readings());
    assertThat(fit.hasInteraction()).isTrue();
    assertThat(fit.interactionVariance()).isZero();
    assertThat(fit.repeatabilityVariance())
        .isCloseTo(pooled.repeatability().variance(), within(1e-9));
    assertThat(fit.operatorVariance())
        .isCloseTo(pooled.operatorComponent().variance(), within(1e-8));
    assertThat(fit.partVariance()).isCloseTo(pooled.partComponent().variance(), within(1e-7));
    assertThat(fit.measuringShare()).isCloseTo(pooled.measuringShare(), within(1e-8));
    assertThat(fit.distinctCategories()).isCloseTo(pooled.distinctCategories(), within(1e-7));
    assertThat(fit.toleranceShare(6)).isCloseTo(fit.measuringSd(), within(1e-15));
    assertThat(fit.totalSd()).isCloseTo(pooled.totalSd(), within(1e-8));
    Interval part = fit.intervals(0.95).get("part");
    assertThat(part.lower()).isLessThan(pooled.partComponent().sd());
    assertThat(part.upper()).isGreaterThan(pooled.partComponent().sd());
  }

  /** Lost readings are no obstacle, and without repeats there is no interaction to tell. */
  @Test
  void byLikelihoodWithLostReadings() {
    List<GaugeReading> some = new ArrayList<>(readings());
    some.remove(40);
    some.remove(7);
    GaugeFit fit = (GaugeFit) GaugeFit.of(some);
    assertThat(fit.measuringShare()).isBetween(0.2, 0.36);
    List<GaugeReading> once = new ArrayList<>();
    for (int part = 1; part <= 5; part++) {
      for (String operator : List.of("a", "b", "c")) {
        once.add(
            new GaugeReading("p" + part, operator, part * part + operator.charAt(0) % 7 * part));
      }
    }
    assertThat(((GaugeFit) GaugeFit.of(once)).hasInteraction()).isFalse();
    List<GaugeReading> apart =
        List.of(new GaugeReading("p1", "a", 1), new GaugeReading("p2", "b", 2));
    assertThat(GaugeFit.of(apart)).isInstanceOf(GaugeNotEstimable.class);
    assertThatThrownBy(() -> GaugeFit.of(List.of(new GaugeReading("p1", "a", 1))))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessageContaining("parts");
  }

  /** Trap 18: the raw component is negative, is shown so, and counts as zero. */
  @Test
  void aNegativeComponentIsShownAndCountsAsZero() {
    GaugeStudy study = GaugeStudy.withInteraction(readings());
    GaugeComponent interaction = study.interactionComponent().orElseThrow();
    ORACLE.check("M3", "INT", interaction.rawVariance());
    assertThat(interaction.atZero()).isTrue();
    assertThat(interaction.variance()).isZero();
    ORACLE.check("M3", "EV", study.repeatability().rawVariance());
    ORACLE.check("M3", "AV", study.operatorComponent().rawVariance());
    ORACLE.check("M3", "PV", study.partComponent().rawVariance());
    double shares =
        study.measuringVariance() / square(study.totalSd())
            + study.partComponent().variance() / square(study.totalSd());
    assertThat(shares).isCloseTo(1, within(1e-12));
  }

  private static double square(double value) {
    return value * value;
  }

  @Test
  void averageAndRange() {
    RangeMethod method = RangeMethod.of(readings());
    ORACLE.check("M4", "mean range", method.meanRange());
    ORACLE.check("M4", "operator range", method.operatorRange());
    ORACLE.check("M4", "part range", method.partRange());
    ORACLE.check("M4", "range limit", method.rangeLimit());
    ORACLE.check("M4", "EV", method.repeatability());
    ORACLE.check("M4", "AV", method.reproducibility());
    ORACLE.check("M4", "GRR", method.measuring());
    ORACLE.check("M4", "PV", method.parts());
    ORACLE.check("M4", "TV", method.total());
    ORACLE.check("M4", "EV printed", method.repeatability());
    ORACLE.check("M4", "AV printed", method.reproducibility());
    ORACLE.check("M4", "GRR printed", method.measuring());
    ORACLE.check("M4", "PV printed", method.parts());
    ORACLE.check("M4", "TV printed", method.total());
    ORACLE.check("M4", "% GRR printed", 100 * method.measuring() / method.total());
    assertThat(method.distinctCategories()).isCloseTo(5.09, within(5e-3));
  }

  @ParameterizedTest
  @ValueSource(ints = {2, 3, 4, 5, 6, 7, 8, 9, 10})
  void constantsOfRanges(int m) {
    RangeConstants constants = RangeConstants.of(m);
    ORACLE.check("M5", "d2 " + m, constants.mean());
    ORACLE.check("M5", "d3 " + m, constants.sd());
    ORACLE.check("M5", "d2* " + m, constants.meanForRanges(1));
    ORACLE.check("M5", "d2* " + m + " printed", constants.meanForRanges(1));
  }

  @Test
  void orderOfReadingsDoesNotMatter() {
    List<GaugeReading> shuffled = new ArrayList<>(readings());
    Collections.shuffle(shuffled, new Random(4));
    assertThat(GaugeStudy.pooled(shuffled).measuringSd())
        .isCloseTo(GaugeStudy.pooled(readings()).measuringSd(), within(1e-13));
  }

  @Test
  void intervalsKeepTheirConfidence() {
    long seed = 20261125;
    Random random = new Random(seed);
    int studies = 600;
    int measuring = 0;
    int repeat = 0;
    double truth = Math.sqrt(1 + 0.5 + 0.25);
    for (int s = 0; s < studies; s++) {
      List<GaugeReading> data = new ArrayList<>();
      double[] operators = new double[4];
      for (int j = 0; j < 4; j++) {
        operators[j] = Math.sqrt(0.5) * random.nextGaussian();
      }
      for (int i = 0; i < 10; i++) {
        double part = 3 * random.nextGaussian();
        for (int j = 0; j < 4; j++) {
          double both = part + operators[j] + 0.5 * random.nextGaussian();
          data.add(new GaugeReading("p" + i, "o" + j, both + random.nextGaussian()));
          data.add(new GaugeReading("p" + i, "o" + j, both + random.nextGaussian()));
        }
      }
      GaugeStudy study = GaugeStudy.withInteraction(data);
      Interval all = study.measuringInterval(0.95);
      Interval alone = study.repeatabilityInterval(0.95);
      measuring += all.lower() <= truth && truth <= all.upper() ? 1 : 0;
      repeat += alone.lower() <= 1 && 1 <= alone.upper() ? 1 : 0;
    }
    // 0.95 less three binomial standard errors.
    assertThat(measuring / (double) studies).as("seed %s", seed).isGreaterThan(0.923);
    assertThat(repeat / (double) studies).as("seed %s", seed).isBetween(0.923, 0.977);
  }

  @Test
  void anUnbalancedStudyIsRefusedByName() {
    List<GaugeReading> readings = new ArrayList<>(readings());
    readings.remove(0);
    assertThatThrownBy(() -> GaugeStudy.pooled(readings))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessageContaining("readings must be balanced: part ");
  }

  @Test
  void uncertaintiesOfTheGuide() {
    CombinedUncertainty combined =
        CombinedUncertainty.of(new double[] {0.25, 0.57, 0.82}, new double[] {9, 4, 14});
    ORACLE.check("M8", "u", combined.standardUncertainty());
    ORACLE.check("M8", "nu", combined.degreesOfFreedom());
    ORACLE.check("M8", "t95(19)", new CombinedUncertainty(1, 19).coverageFactor(0.95));
  }

  @Test
  void noNumberOfReadingsBeatsTheReference() {
    double[] many = new double[10_000];
    for (int i = 0; i < many.length; i++) {
      many[i] = 100.02 + (i % 2 == 0 ? 0.01 : -0.01);
    }
    ReferenceBias bias = ReferenceBias.of(many, 100, 0.02, 0.95);
    assertThat(bias.bias()).isCloseTo(0.02, within(1e-9));
    assertThat(bias.uncertainty().standardUncertainty()).isCloseTo(0.02, within(1e-5));
    assertThat(bias.shown()).isFalse();
    assertThat(ReferenceBias.of(many, 100, 0, 0.95).shown()).isTrue();
    assertThat(ReferenceBias.of(new double[] {1, 1}, 1, 0, 0.95).shown()).isFalse();
  }
}
