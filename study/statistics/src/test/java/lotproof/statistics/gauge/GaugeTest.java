package lotproof.statistics.gauge;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Random;
import lotproof.statistics.DistributionQuantiles;
import lotproof.statistics.Interval;
import lotproof.statistics.Oracle;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.Test;

class GaugeTest {
  private static final Oracle ORACLE = Oracle.load("gauge");

  /** Levels that keep the interaction, and pool it, in every study here. */
  private static final double KEEP = 1 - 1e-12;

  private static final double POOL = 1e-12;

  @AfterAll
  static void everyExpectedValueWasChecked() {
    ORACLE.assertAllUsed();
  }

  private static List<GaugeStudy.Reading> readings() {
    return Oracle.table("aiag_msa_10x3x3.csv").stream()
        .map(
            row ->
                new GaugeStudy.Reading(
                    row.getField("part"),
                    row.getField("appraiser"),
                    Double.parseDouble(row.getField("y"))))
        .toList();
  }

  @Test
  void analysisOfVariance() {
    GaugeStudy study = GaugeStudy.poolingAbove(readings(), KEEP);
    ORACLE.check("M1", "SS operator", study.operator.sumOfSquares());
    ORACLE.check("M1", "SS part", study.part.sumOfSquares());
    ORACLE.check("M1", "SS interaction", study.interaction.sumOfSquares());
    ORACLE.check("M1", "SS repeat", study.repeat().sumOfSquares());
    ORACLE.check(
        "M1",
        "SS total",
        study.operator.sumOfSquares()
            + study.part.sumOfSquares()
            + study.interaction.sumOfSquares()
            + study.repeat().sumOfSquares());
    assertThat(study.operator.degreesOfFreedom()).isEqualTo(2);
    assertThat(study.part.degreesOfFreedom()).isEqualTo(9);
    assertThat(study.interaction.degreesOfFreedom()).isEqualTo(18);
    assertThat(study.repeat().degreesOfFreedom()).isEqualTo(60);
    double repeat = study.repeat().meanSquare();
    ORACLE.check("M1", "F operator on repeat", study.operator.meanSquare() / repeat);
    ORACLE.check("M1", "F part on repeat", study.part.meanSquare() / repeat);
    ORACLE.check("M1", "F interaction", study.interaction.meanSquare() / repeat);
    ORACLE.check("M1", "p interaction", study.interaction.pValueAgainst(study.repeat()));
    ORACLE.check(
        "M1",
        "F operator on interaction",
        study.operator.meanSquare() / study.interaction.meanSquare());
    ORACLE.check(
        "M1", "F part on interaction", study.part.meanSquare() / study.interaction.meanSquare());
  }

  @Test
  void pooledComponents() {
    GaugeStudy study = GaugeStudy.poolingAbove(readings(), 0.25);
    assertThat(study.interactionComponent()).isEmpty();
    ORACLE.check("M2", "EV", study.repeatability().sd());
    ORACLE.check("M2", "AV", study.operatorComponent().sd());
    ORACLE.check("M2", "GRR", study.measuringSd());
    ORACLE.check("M2", "PV", study.partComponent().sd());
    ORACLE.check("M2", "TV", study.totalSd());
    ORACLE.check("M2", "% GRR", 100 * study.measuringShare());
    ORACLE.check("M2", "categories", study.distinctCategories());
  }

  @Test
  void intervalsOfMeasuring() {
    for (double confidence : new double[] {0.95, 0.8}) {
      checkIntervals("full " + confidence, KEEP, confidence);
      checkIntervals("pooled " + confidence, POOL, confidence);
    }
  }

  private static void checkIntervals(String which, double level, double confidence) {
    Interval measuring = GaugeStudy.poolingAbove(readings(), level).measuringInterval(confidence);
    ORACLE.check("M9", which + " measuring lower", measuring.lower());
    ORACLE.check("M9", which + " measuring upper", measuring.upper());
  }

  /** Trap 18: the raw component is negative, is shown so, and counts as zero. */
  @Test
  void aNegativeComponentIsShownAndCountsAsZero() {
    GaugeStudy study = GaugeStudy.poolingAbove(readings(), KEEP);
    GaugeStudy.Component interaction = study.interactionComponent().orElseThrow();
    ORACLE.check("M3", "INT", interaction.rawVariance());
    assertThat(interaction.variance()).isZero();
    ORACLE.check("M3", "EV", study.repeatability().rawVariance());
    ORACLE.check("M3", "AV", study.operatorComponent().rawVariance());
    ORACLE.check("M3", "PV", study.partComponent().rawVariance());
    double shares =
        square(study.measuringSd()) / square(study.totalSd())
            + study.partComponent().variance() / square(study.totalSd());
    assertThat(shares).isCloseTo(1, within(1e-12));
  }

  private static double square(double value) {
    return value * value;
  }

  @Test
  void orderOfReadingsDoesNotMatter() {
    List<GaugeStudy.Reading> shuffled = new ArrayList<>(readings());
    Collections.shuffle(shuffled, new Random(4));
    assertThat(GaugeStudy.poolingAbove(shuffled, POOL).measuringSd())
        .isCloseTo(GaugeStudy.poolingAbove(readings(), POOL).measuringSd(), within(1e-13));
  }

  @Test
  void intervalsKeepTheirConfidence() {
    long seed = 20261125;
    Random random = new Random(seed);
    int studies = 600;
    int measuring = 0;
    double truth = Math.sqrt(1 + 0.5 + 0.25);
    for (int s = 0; s < studies; s++) {
      List<GaugeStudy.Reading> data = new ArrayList<>();
      double[] operators = new double[4];
      for (int j = 0; j < 4; j++) {
        operators[j] = Math.sqrt(0.5) * random.nextGaussian();
      }
      for (int i = 0; i < 10; i++) {
        double part = 3 * random.nextGaussian();
        for (int j = 0; j < 4; j++) {
          double both = part + operators[j] + 0.5 * random.nextGaussian();
          data.add(new GaugeStudy.Reading("p" + i, "o" + j, both + random.nextGaussian()));
          data.add(new GaugeStudy.Reading("p" + i, "o" + j, both + random.nextGaussian()));
        }
      }
      GaugeStudy study = GaugeStudy.poolingAbove(data, KEEP);
      Interval all = study.measuringInterval(0.95);
      measuring += all.lower() <= truth && truth <= all.upper() ? 1 : 0;
    }
    // 0.95 less three binomial standard errors.
    assertThat(measuring / (double) studies).as("seed %s", seed).isGreaterThan(0.923);
  }

  @Test
  void anUnbalancedStudyIsRefusedByName() {
    List<GaugeStudy.Reading> readings = new ArrayList<>(readings());
    readings.remove(0);
    assertThatThrownBy(() -> GaugeStudy.poolingAbove(readings, POOL))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessageContaining("readings must be balanced: part ");
  }

  @Test
  void studentQuantileOfTheGuide() {
    ORACLE.check("M8", "t95(19)", DistributionQuantiles.studentUpper(19, 0.025));
  }
}
