package lotproof.statistics.homogeneity;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import de.siegmar.fastcsv.reader.NamedCsvRecord;
import java.util.Arrays;
import java.util.List;
import java.util.stream.Collectors;
import lotproof.statistics.DistributionQuantiles;
import lotproof.statistics.Interval;
import lotproof.statistics.Oracle;
import lotproof.statistics.summary.Summary;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.Test;

class HomogeneityTest {
  private static final Oracle ORACLE = Oracle.load("homogeneity");

  @AfterAll
  static void everyExpectedValueWasChecked() {
    ORACLE.assertAllUsed();
  }

  private static List<double[]> groups(String file, String group, String value) {
    return Oracle.table(file).stream()
        .collect(
            Collectors.groupingBy((NamedCsvRecord row) -> Integer.parseInt(row.getField(group))))
        .values()
        .stream()
        .map(
            rows -> rows.stream().mapToDouble(r -> Double.parseDouble(r.getField(value))).toArray())
        .toList();
  }

  @Test
  void spreadOfTheGears() {
    List<double[]> gears = groups("nist_gear.csv", "batch", "diameter");
    Bartlett bartlett = Bartlett.test(gears).orElseThrow();
    ORACLE.check("S1", "Bartlett", bartlett.statistic());
    ORACLE.check("S1", "Bartlett p", bartlett.pValue());
    BrownForsythe median = BrownForsythe.test(gears).orElseThrow();
    ORACLE.check("S1", "Brown-Forsythe", median.statistic());
    ORACLE.check("S1", "Brown-Forsythe p", median.pValue());
  }

  @Test
  void intervalOfTheSpreadOfAllGears() {
    double sd = Summary.sd(Oracle.column("nist_gear.csv", "diameter"));
    Interval interval = Interval.ofStandardDeviation(sd, 99, 0.95);
    ORACLE.check("S2", "critical lower", DistributionQuantiles.chiSquare(99, 0.025));
    ORACLE.check("S2", "critical upper", DistributionQuantiles.chiSquareUpper(99, 0.025));
    ORACLE.check("S2", "sd", sd);
    ORACLE.check("S2", "sd lower", interval.lower());
    ORACLE.check("S2", "sd upper", interval.upper());
  }

  @Test
  void criticalValuesOfAVarianceRatio() {
    ORACLE.check("S3", "critical lower", DistributionQuantiles.fisher(239, 239, 0.025));
    ORACLE.check("S3", "critical upper", DistributionQuantiles.fisherUpper(239, 239, 0.025));
  }

  @Test
  void theBlockRuleMatters() {
    double[] y = Oracle.column("nist_zarr13.csv", "y");
    List<double[]> blocks =
        List.of(
            Arrays.copyOfRange(y, 0, 48),
            Arrays.copyOfRange(y, 48, 97),
            Arrays.copyOfRange(y, 97, 146),
            Arrays.copyOfRange(y, 146, 195));
    Bartlett test = Bartlett.test(blocks).orElseThrow();
    ORACLE.check("S4", "Bartlett in blocks of 48, 49, 49, 49", test.statistic());
    ORACLE.check("S4", "p", test.pValue());
    List<double[]> other =
        List.of(
            Arrays.copyOfRange(y, 0, 49),
            Arrays.copyOfRange(y, 49, 98),
            Arrays.copyOfRange(y, 98, 147),
            Arrays.copyOfRange(y, 147, 195));
    ORACLE.check(
        "S4",
        "Bartlett in blocks of 49, 49, 49, 48",
        Bartlett.test(other).orElseThrow().statistic());
  }

  @Test
  void unitsAndOrderDoNotMatter() {
    List<double[]> groups =
        List.of(new double[] {1, 2, 4}, new double[] {3, 9, 1, 5}, new double[] {7, 7.5});
    List<double[]> moved =
        List.of(new double[] {75, 70}, new double[] {10, 50, 90, 30}, new double[] {40, 20, 10});
    assertThat(Bartlett.test(moved).orElseThrow().statistic())
        .isCloseTo(Bartlett.test(groups).orElseThrow().statistic(), within(1e-12));
    assertThat(BrownForsythe.test(moved).orElseThrow().statistic())
        .isCloseTo(BrownForsythe.test(groups).orElseThrow().statistic(), within(1e-12));
  }

  @Test
  void withoutSpreadThereIsNoAnswer() {
    List<double[]> flat = List.of(new double[] {1, 1}, new double[] {2, 3});
    assertThat(Bartlett.test(flat)).isEmpty();
    assertThat(BrownForsythe.test(List.of(new double[] {1, 1}, new double[] {2, 2}))).isEmpty();
    assertThatThrownBy(() -> Bartlett.test(List.of(new double[] {1, 2})))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessage("number of groups must be 2 or above, was 1");
  }
}
