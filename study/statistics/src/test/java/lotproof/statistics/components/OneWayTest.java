package lotproof.statistics.components;

import static org.assertj.core.api.Assertions.assertThat;

import de.siegmar.fastcsv.reader.NamedCsvRecord;
import java.util.ArrayList;
import java.util.List;
import lotproof.statistics.Oracle;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Certified one-way analyses, up to data that double arithmetic can hardly hold. */
class OneWayTest {
  private static final Oracle ORACLE = Oracle.load("one-way");

  @AfterAll
  static void everyExpectedValueWasChecked() {
    ORACLE.assertAllUsed();
  }

  private static AnovaLine groupLine(List<String> groups, List<Double> values) {
    return analysed(groups, values).line("group");
  }

  private static BalancedAnova analysed(List<String> groups, List<Double> values) {
    AnovaOutcome outcome =
        BalancedAnova.analyse(
            new Observations(
                values.stream().mapToDouble(v -> v).toArray(),
                List.of(RandomFactor.of("group", groups))));
    assertThat(outcome).isInstanceOf(BalancedAnova.class);
    return (BalancedAnova) outcome;
  }

  private static BalancedAnova analysed(String file, String group, String value) {
    List<NamedCsvRecord> rows = Oracle.table(file);
    return analysed(
        rows.stream().map(row -> row.getField(group)).toList(),
        rows.stream().map(row -> Double.parseDouble(row.getField(value))).toList());
  }

  private static double ratio(AnovaLine line) {
    return line.test().orElseThrow().ratio();
  }

  @ParameterizedTest(name = "{0} {1}")
  @CsvSource({"A1, SiRstv, strd_sirstv.csv", "A3, AtmWtAg, strd_atmwtag.csv"})
  void measuredData(String id, String name, String file) {
    BalancedAnova anova = analysed(file, "group", "y");
    ORACLE.check(id, name + " F", ratio(anova.line("group")));
    ORACLE.check(id, name + " SS between", anova.line("group").sumOfSquares());
    ORACLE.check(id, name + " SS within", anova.line("residual").sumOfSquares());
  }

  /**
   * The larger data sets repeat the second and third value of each group of the smallest one, ten,
   * a hundred or a thousand times.
   */
  @ParameterizedTest(name = "{0} {1}")
  @CsvSource({
    "A2, SmLs01, 1, 10",
    "A2, SmLs02, 1, 100",
    "A2, SmLs03, 1, 1000",
    "A4, SmLs04, 4, 10",
    "A4, SmLs05, 4, 100",
    "A4, SmLs06, 4, 1000",
    "A5, SmLs07, 7, 10",
    "A5, SmLs08, 7, 100",
    "A5, SmLs09, 7, 1000",
  })
  void constantLeadingDigits(String id, String name, int smallest, int times) {
    List<NamedCsvRecord> rows = Oracle.table("strd_smls0" + smallest + ".csv");
    List<String> groups = new ArrayList<>();
    List<Double> values = new ArrayList<>();
    for (int first = 0; first < rows.size(); first += 21) {
      for (int i = 0; i < 1 + 2 * times; i++) {
        NamedCsvRecord row = rows.get(first + (i == 0 ? 0 : 2 - i % 2));
        groups.add(row.getField("group"));
        values.add(Double.parseDouble(row.getField("y")));
      }
    }
    assertThat(values).hasSize(9 * (1 + 2 * times));
    ORACLE.check(id, name + " F", ratio(groupLine(groups, values)));
  }

  @Test
  void gearDiameters() {
    BalancedAnova anova = analysed("nist_gear.csv", "batch", "diameter");
    ORACLE.check("A6", "F", ratio(anova.line("group")));
    ORACLE.check("A6", "p", anova.line("group").test().orElseThrow().probability());
    ORACLE.check("A6", "SS between", anova.line("group").sumOfSquares());
    ORACLE.check("A6", "SS within", anova.line("residual").sumOfSquares());
  }

  @Test
  void resistors() {
    AnovaLine line = analysed("nist_7433_resistors.csv", "level", "y").line("group");
    ORACLE.check("A7", "F", ratio(line));
    ORACLE.check("A7", "p", line.test().orElseThrow().probability());
  }
}
