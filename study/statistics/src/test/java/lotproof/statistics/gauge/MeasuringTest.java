package lotproof.statistics.gauge;

import static org.assertj.core.api.Assertions.assertThat;
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
import java.util.stream.IntStream;
import lotproof.statistics.Oracle;
import lotproof.statistics.outliers.Cochran;
import lotproof.statistics.summary.Summary;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Precision of measuring, on published studies. */
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
    double[] variances = groups.stream().mapToDouble(Summary::variance).toArray();
    int[] three = IntStream.generate(() -> 3).limit(variances.length).toArray();
    Cochran cochran = Cochran.test(variances, three, 0.05).orElseThrow();
    ORACLE.check("M6", "level " + level + " cochran", cochran.statistic());
  }

  private static double[] array(List<Double> values) {
    return values.stream().mapToDouble(v -> v).toArray();
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
    GaugeStudy.Component day =
        new GaugeStudy.Component(dayToDay * dayToDay - shortTerm * shortTerm / 6);
    ORACLE.check("V6", "day variance", day.rawVariance());
    assertThat(day.sd()).isZero();
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
    ORACLE.check("V8", "F", dayVariance / (pooled * pooled));
    GaugeStudy.Component days = new GaugeStudy.Component((dayVariance - pooled * pooled) / 5);
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
}
