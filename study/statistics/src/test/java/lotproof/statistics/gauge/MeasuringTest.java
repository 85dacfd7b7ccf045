package lotproof.statistics.gauge;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import de.siegmar.fastcsv.reader.CsvReader;
import de.siegmar.fastcsv.reader.NamedCsvRecord;
import java.io.IOException;
import java.io.InputStreamReader;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import lotproof.statistics.Interval;
import lotproof.statistics.Oracle;
import lotproof.statistics.homogeneity.VarianceRatio;
import lotproof.statistics.outliers.Cochran;
import lotproof.statistics.summary.Summary;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Precision, agreement and bias of measuring, on published studies. */
class MeasuringTest {
  private static final Oracle ORACLE = Oracle.load("measuring");

  @AfterAll
  static void everyExpectedValueWasChecked() {
    ORACLE.assertAllUsed();
  }

  @ParameterizedTest(name = "level {0}")
  @ValueSource(ints = {1, 2, 3, 4})
  void eightLaboratories(int level) {
    Map<String, List<Double>> byLab = new LinkedHashMap<>();
    for (NamedCsvRecord row : Oracle.table("iso5725_2_sulfur_from_memory.csv")) {
      if (row.getField("level").equals(Integer.toString(level))) {
        byLab
            .computeIfAbsent(row.getField("lab"), l -> new ArrayList<>())
            .add(Double.parseDouble(row.getField("y")));
      }
    }
    List<double[]> groups = byLab.values().stream().map(MeasuringTest::array).toList();
    GroupPrecision precision = GroupPrecision.of(groups);
    String at = "level " + level + " ";
    ORACLE.check("M6", at + "mean", precision.mean());
    ORACLE.check("M6", at + "repeatability", precision.repeatability().sd());
    ORACLE.check("M6", at + "between", precision.between().sd());
    ORACLE.check("M6", at + "reproducibility", precision.reproducibilitySd());
    ORACLE.check("M6", at + "group size", precision.effectiveGroupSize());
    for (int i = 0; i < 8; i++) {
      ORACLE.check("M6", at + "h " + (i + 1), precision.levelStatistics().get(i));
      ORACLE.check("M6", at + "k " + (i + 1), precision.scatterStatistics().get(i));
    }
    double[] variances = groups.stream().mapToDouble(Summary::variance).toArray();
    Cochran cochran = Cochran.test(variances, 3, 0.05).orElseThrow();
    ORACLE.check("M6", at + "cochran", cochran.statistic());
  }

  private static double[] array(List<Double> values) {
    return values.stream().mapToDouble(v -> v).toArray();
  }

  @Test
  void twoFlowMeters() {
    double[][] columns = new double[4][];
    String[] names = {"wright1", "wright2", "mini1", "mini2"};
    for (int c = 0; c < 4; c++) {
      columns[c] = Oracle.column("bland_altman_1986_pefr.csv", names[c]);
    }
    Agreement agreement = Agreement.of(columns[0], columns[2]);
    ORACLE.check("M7", "mean difference", agreement.meanDifference());
    ORACLE.check("M7", "sd", agreement.sd());
    ORACLE.check("M7", "lower", agreement.lower());
    ORACLE.check("M7", "upper", agreement.upper());
    ORACLE.check("M7", "within sd wright", Agreement.of(columns[0], columns[1]).withinItemSd());
    ORACLE.check("M7", "within sd mini", Agreement.of(columns[2], columns[3]).withinItemSd());
  }

  private static List<NamedCsvRecord> probe2362() throws IOException {
    String path = "/components/nist_mpc61.csv";
    try (CsvReader<NamedCsvRecord> csv =
        CsvReader.builder()
            .ofNamedCsvRecord(
                new InputStreamReader(
                    Objects.requireNonNull(MeasuringTest.class.getResourceAsStream(path)),
                    StandardCharsets.UTF_8))) {
      return csv.stream().filter(row -> row.getField("probe").equals("2362")).toList();
    }
  }

  /** Root mean square of the short-term standard deviations. */
  private static double level1(List<NamedCsvRecord> rows) {
    return Math.sqrt(
        rows.stream()
            .mapToDouble(row -> Double.parseDouble(row.getField("sd")))
            .map(sd -> sd * sd)
            .average()
            .orElseThrow());
  }

  private static Map<String, List<Double>> averages(List<NamedCsvRecord> rows) {
    Map<String, List<Double>> cells = new LinkedHashMap<>();
    for (NamedCsvRecord row : rows) {
      cells
          .computeIfAbsent(
              row.getField("wafer") + " " + row.getField("run"), k -> new ArrayList<>())
          .add(Double.parseDouble(row.getField("avg")));
    }
    return cells;
  }

  /** Root mean square of the day-to-day standard deviations. */
  private static double level2(List<NamedCsvRecord> rows) {
    return Math.sqrt(
        averages(rows).values().stream()
            .mapToDouble(days -> Summary.variance(array(days)))
            .average()
            .orElseThrow());
  }

  /** Root mean square of the run-to-run standard deviations of the wafers. */
  private static double level3(List<NamedCsvRecord> rows) {
    Map<String, List<Double>> runs = new LinkedHashMap<>();
    averages(rows)
        .forEach(
            (cell, days) ->
                runs.computeIfAbsent(cell.split(" ", 2)[0], w -> new ArrayList<>())
                    .add(Summary.mean(array(days))));
    return Math.sqrt(
        runs.values().stream()
            .mapToDouble(means -> Summary.variance(array(means)))
            .average()
            .orElseThrow());
  }

  @Test
  void threeLevelsOfAProbe() throws IOException {
    List<NamedCsvRecord> rows = probe2362();
    for (String run : List.of("1", "2")) {
      List<NamedCsvRecord> ofRun =
          rows.stream().filter(row -> row.getField("run").equals(run)).toList();
      ORACLE.check("V5", "level 1 run " + run, level1(ofRun));
      ORACLE.check("V5", "level 2 run " + run, level2(ofRun));
    }
    ORACLE.check("V5", "level 1", level1(rows));
    ORACLE.check("V5", "level 2", level2(rows));
    ORACLE.check("V5", "level 3", level3(rows));
  }

  /** Trap 18: the raw component is negative, is shown so, and counts as zero. */
  @Test
  void theDayComponentOfOneWaferIsNegative() throws IOException {
    List<NamedCsvRecord> rows =
        probe2362().stream().filter(row -> row.getField("wafer").equals("140")).toList();
    double shortTerm = level1(rows);
    double dayToDay = level2(rows);
    ORACLE.check("V6", "level 1", shortTerm);
    ORACLE.check("V6", "level 2", dayToDay);
    GaugeComponent day = new GaugeComponent(dayToDay * dayToDay - shortTerm * shortTerm / 6);
    ORACLE.check("V6", "day variance", day.rawVariance());
    assertThat(day.sd()).isZero();
    assertThat(day.atZero()).isTrue();
  }

  @Test
  void uncertaintyOfTheProbe() throws IOException {
    List<NamedCsvRecord> rows = probe2362();
    double probe = 0.0161785969114996; // of its ten biases, 9 degrees of freedom
    CombinedUncertainty u =
        CombinedUncertainty.of(
            new double[] {Math.sqrt(5.0 / 6) * level2(rows), level3(rows), probe / Math.sqrt(10)},
            new double[] {50, 5, 9});
    ORACLE.check("V7", "u", u.standardUncertainty());
    ORACLE.check("V7", "degrees of freedom", u.degreesOfFreedom());
    ORACLE.check("V7", "expanded", u.coverageFactor(0.95) * u.standardUncertainty());
  }

  /** Trap 8: the printed F of 2.25 comes from rounded figures. */
  @Test
  void voltageStandardOverTenDays() {
    double[] means = Oracle.column("gum_h5_zener.csv", "mean_V");
    double[] sds = Oracle.column("gum_h5_zener.csv", "sd_uV");
    double ofMeans = 1e6 * Summary.sd(means);
    double pooled = Math.sqrt(java.util.Arrays.stream(sds).map(s -> s * s).average().orElseThrow());
    double dayVariance = 5 * ofMeans * ofMeans;
    ORACLE.check("V8", "mean", Summary.mean(means));
    ORACLE.check("V8", "sd of day means", ofMeans);
    ORACLE.check("V8", "pooled within", pooled);
    ORACLE.check("V8", "s_a", Math.sqrt(dayVariance));
    VarianceRatio ratio = VarianceRatio.test(dayVariance, 9, pooled * pooled, 40);
    ORACLE.check("V8", "F", ratio.statistic());
    GaugeComponent days = new GaugeComponent((dayVariance - pooled * pooled) / 5);
    ORACLE.check("V8", "between days", days.sd());
    ORACLE.check("V8", "u", ofMeans / Math.sqrt(10));
    double all = (9 * dayVariance + 40 * pooled * pooled) / 49;
    ORACLE.check("V8", "u without days", Math.sqrt(all / 50));
  }

  @Test
  void sixTargetsByFourJudges() {
    Map<String, double[]> byTarget = new LinkedHashMap<>();
    for (NamedCsvRecord row : Oracle.table("shrout_fleiss_1979.csv")) {
      byTarget
              .computeIfAbsent(row.getField("target"), t -> new double[4])[
              Integer.parseInt(row.getField("judge")) - 1] =
          Double.parseDouble(row.getField("y"));
    }
    double[] targetMeans = byTarget.values().stream().mapToDouble(Summary::mean).toArray();
    double[] judgeMeans = new double[4];
    double within = 0;
    for (double[] target : byTarget.values()) {
      within += 3 * Summary.variance(target);
      for (int j = 0; j < 4; j++) {
        judgeMeans[j] += target[j] / 6;
      }
    }
    double judges = 6 * Summary.variance(judgeMeans);
    ORACLE.check("V12", "target mean square", 4 * Summary.variance(targetMeans));
    ORACLE.check("V12", "judge mean square", judges);
    ORACLE.check("V12", "error mean square", (within - 3 * judges) / 15);
  }

  @Test
  void theBiasOfACertifiedLineChangesWithTheLoad() {
    BiasLinearity linearity =
        BiasLinearity.of(
            Oracle.column("strd_norris.csv", "x"), Oracle.column("strd_norris.csv", "y"));
    ORACLE.check("C1 bias", "intercept", linearity.intercept());
    ORACLE.check("C1 bias", "slope", linearity.slope());
    ORACLE.check("C1 bias", "slope se", linearity.slopeStandardError());
    assertThat(linearity.changesWithLoad(0.95)).isTrue();
    Interval exact = linearity.intervalAt(500, 0, 0.95);
    Interval known = linearity.intervalAt(500, 0.5, 0.95);
    assertThat(exact.contains(linearity.biasAt(500))).isTrue();
    assertThat(known.upper()).isGreaterThan(exact.upper());
  }

  /** References 1, 2, 3 twice each; biases by hand: slope 0, so nothing changes with the load. */
  @Test
  void aConstantBiasDoesNotChangeWithTheLoad() {
    double[] references = {1, 1, 2, 2, 3, 3};
    double[] readings = {1.4, 1.6, 2.4, 2.6, 3.4, 3.6};
    BiasLinearity linearity = BiasLinearity.of(references, readings);
    assertThat(linearity.slope()).isCloseTo(0, within(1e-12));
    assertThat(linearity.changesWithLoad(0.95)).isFalse();
    assertThat(linearity.biasAt(2)).isCloseTo(0.5, within(1e-12));
    // residual variance 6 * 0.01 / 4, t(0.975; 4) = 2.7764451052
    double half = 2.7764451052 * Math.sqrt(0.06 / 4 / 6);
    assertThat(linearity.intervalAt(2, 0, 0.95).upper()).isCloseTo(0.5 + half, within(1e-9));
    assertThat(linearity.lackOfFit()).isPresent();
  }

  @Test
  void groupsThatCannotBeJudgedAreRefused() {
    assertThatThrownBy(() -> GroupPrecision.of(List.of(new double[] {1, 2})))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessageContaining("groups");
    assertThatThrownBy(() -> Agreement.of(new double[] {1, 2, 3}, new double[] {1, 2, 3, 4}))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessageContaining("3 and 4");
  }
}
