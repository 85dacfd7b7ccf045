package lotproof.statistics.homogeneity;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import de.siegmar.fastcsv.reader.NamedCsvRecord;
import java.util.Arrays;
import java.util.List;
import java.util.stream.Collectors;
import lotproof.statistics.DistributionQuantiles;
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
    BrownForsythe mean = BrownForsythe.test(gears, BrownForsythe.Centre.MEAN).orElseThrow();
    ORACLE.check("S1", "Levene about the mean", mean.statistic());
  }

  @Test
  void oneVarianceAgainstAStatedOne() {
    Summary gears = Summary.of(Oracle.column("nist_gear.csv", "diameter"));
    SingleVariance test = SingleVariance.test(gears.sd(), 99, 0.1);
    ORACLE.check("S2", "T", test.statistic());
    ORACLE.check("S2", "critical lower", DistributionQuantiles.chiSquare(99, 0.025));
    ORACLE.check("S2", "critical upper", DistributionQuantiles.chiSquareUpper(99, 0.025));
    ORACLE.check("S2", "sd", gears.sd());
    ORACLE.check("S2", "sd lower", gears.sdInterval(0.95).lower());
    ORACLE.check("S2", "sd upper", gears.sdInterval(0.95).upper());
    assertThat(test.pTwoSided()).isLessThan(1e-10);
  }

  @Test
  void twoVariances() {
    List<double[]> batches = groups("nist_jahanmi2.csv", "batch", "strength");
    double[] one = batches.get(0);
    double[] two = batches.get(1);
    VarianceRatio test =
        VarianceRatio.test(
            Summary.variance(one), one.length - 1, Summary.variance(two), two.length - 1);
    ORACLE.check("S3", "F", test.statistic());
    ORACLE.check("S3", "p", test.pTwoSided());
    ORACLE.check("S3", "lower", test.interval(0.95).lower());
    ORACLE.check("S3", "upper", test.interval(0.95).upper());
    ORACLE.check("S3", "critical lower", DistributionQuantiles.fisher(239, 239, 0.025));
    ORACLE.check("S3", "critical upper", DistributionQuantiles.fisherUpper(239, 239, 0.025));
    VarianceRatio swapped =
        VarianceRatio.test(
            Summary.variance(two), two.length - 1, Summary.variance(one), one.length - 1);
    assertThat(swapped.pTwoSided()).isCloseTo(test.pTwoSided(), within(1e-12));
    assertThat(swapped.interval(0.95).upper())
        .isCloseTo(1 / test.interval(0.95).lower(), within(1e-9));
  }

  @Test
  void theBlockRuleMatters() {
    double[] y = Oracle.column("nist_zarr13.csv", "y");
    List<double[]> blocks = Groups.blocks(y, 4);
    assertThat(blocks).extracting(block -> block.length).containsExactly(48, 49, 49, 49);
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
