package lotproof.statistics.outliers;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import de.siegmar.fastcsv.reader.NamedCsvRecord;
import java.util.Arrays;
import java.util.List;
import java.util.TreeMap;
import java.util.stream.DoubleStream;
import java.util.stream.IntStream;
import lotproof.statistics.Oracle;
import lotproof.statistics.summary.Summary;
import org.apache.commons.statistics.distribution.BetaDistribution;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class OutliersTest {
  private static final Oracle ORACLE = Oracle.load("outliers");

  @AfterAll
  static void everyExpectedValueWasChecked() {
    ORACLE.assertAllUsed();
  }

  @Test
  void grubbsOnEightValues() {
    double[] y = Oracle.column("nist_grubbs.csv", "y");
    Grubbs test = Grubbs.test(y, 0.05).orElseThrow();
    ORACLE.check("O1", "G", test.statistic());
    ORACLE.check("O1", "one-sided critical", Grubbs.critical(8, 0.05 / 8));
    ORACLE.check("O1", "two-sided critical", test.criticalValue());
    assertThat(test.extreme()).isTrue();
    assertThat(y[test.index()]).isEqualTo(245.57);
    assertThat(test.pValue()).isLessThan(0.05);
  }

  /** Trap 5: the case studies call the test one-tailed but print the two-sided criticals. */
  @ParameterizedTest
  @ValueSource(strings = {"zarr13", "randn", "soulen"})
  void grubbsOnTheCaseStudies(String name) {
    double[] y = Oracle.column("nist_" + name + ".csv", "y");
    Grubbs either = Grubbs.test(y, 0.05).orElseThrow();
    ORACLE.check("O4", "G " + name, either.statistic());
    ORACLE.check("O4", "critical " + name, either.criticalValue());
    assertThat(either.extreme()).isFalse();
  }

  @ParameterizedTest
  @ValueSource(ints = {3, 5, 8, 10, 20, 30, 50, 100})
  void grubbsCriticalValues(int n) {
    ORACLE.check("O5", "two-sided " + n, Grubbs.critical(n, 0.05 / (2 * n)));
    ORACLE.check("O5", "one-sided " + n, Grubbs.critical(n, 0.05 / n));
  }

  @Test
  void theProbabilityValueMeetsTheLevelAtTheCriticalValue() {
    double[] y = {0, 0.1, -0.1, 0.2, -0.2, 0.3, -0.3, 0.05, 0.9};
    Grubbs first = Grubbs.test(y, 0.05).orElseThrow();
    Grubbs atItsOwnLevel = Grubbs.test(y, first.pValue()).orElseThrow();
    assertThat(atItsOwnLevel.criticalValue()).isCloseTo(first.statistic(), within(1e-10));
  }

  @Test
  void rosnersExampleFindsThreeThoughTheSecondStepAloneFails() {
    GeneralizedEsd esd = GeneralizedEsd.test(Oracle.column("nist_rosner.csv", "y"), 10, 0.05);
    for (int i = 1; i <= 10; i++) {
      ORACLE.check("O2", "R " + i, esd.steps().get(i - 1).statistic());
      ORACLE.check("O2", "lambda " + i, esd.steps().get(i - 1).criticalValue());
    }
    ORACLE.check("O2", "extremes", esd.extremeCount());
    double[] y = Oracle.column("nist_rosner.csv", "y");
    assertThat(esd.extremes().stream().map(step -> y[step.index()]))
        .containsExactly(6.01, 5.42, 5.34);
    GeneralizedEsd.Step second = esd.steps().get(1);
    assertThat(second.statistic()).isLessThan(second.criticalValue());
  }

  /** Trap 4: the handbook's page cuts off after three decimals where it seems to round. */
  @Test
  void thePrintedStepsAreCutOffNotRounded() {
    GeneralizedEsd.Step first =
        GeneralizedEsd.test(Oracle.column("nist_rosner.csv", "y"), 10, 0.05).steps().get(0);
    assertThat(Math.floor(first.statistic() * 1000)).isEqualTo(3118);
    assertThat(Math.round(first.statistic() * 1000)).isEqualTo(3119);
    assertThat(Math.floor(first.criticalValue() * 1000)).isEqualTo(3158);
    assertThat(Math.round(first.criticalValue() * 1000)).isEqualTo(3159);
  }

  @Test
  void esdCriticalValues() {
    double[] fifty = IntStream.range(0, 50).mapToDouble(i -> i).toArray();
    List<GeneralizedEsd.Step> steps = GeneralizedEsd.test(fifty, 10, 0.05).steps();
    for (int step = 1; step <= 10; step++) {
      ORACLE.check("O6", "step " + step, steps.get(step - 1).criticalValue());
    }
  }

  @Test
  void modifiedZ() {
    double[] y = Oracle.column("nist_grubbs.csv", "y");
    ModifiedZ z = ModifiedZ.of(y).orElseThrow();
    ORACLE.check("O7", "MAD", z.mad());
    assertThat(z.beyond()).hasSize(1);
    ORACLE.check("O7", "largest", z.scores().get(z.beyond().get(0)));
    assertThat(ModifiedZ.of(new double[] {1, 1, 1, 1, 9})).isEmpty();
  }

  @Test
  void cochranCriticalValues() {
    for (int p : new int[] {3, 5, 8, 10, 20, 40}) {
      for (int n : new int[] {2, 3, 4, 5, 6}) {
        for (String level : new String[] {"0.05", "0.01"}) {
          ORACLE.check(
              "O8",
              "p=" + p + " n=" + n + " " + level,
              cochran(ones(p), n, Double.parseDouble(level)).criticalValue());
        }
      }
    }
  }

  private static double[] ones(int count) {
    return DoubleStream.generate(() -> 1).limit(count).toArray();
  }

  private static Cochran cochran(double[] variances, int valuesEach, double significance) {
    int[] each = IntStream.generate(() -> valuesEach).limit(variances.length).toArray();
    return Cochran.test(variances, each, significance).orElseThrow();
  }

  /** Sums of squares 2, 3 and 20 on 2, 3 and 1 degrees of freedom: 20 / 25 of Beta(1/2, 5/2). */
  @Test
  void cochranOfUnequalSizesIsThatOfTheShareOfSquares() {
    Cochran test = Cochran.test(new double[] {1, 1, 20}, new int[] {3, 4, 2}, 0.05).orElseThrow();
    assertThat(test.index()).isEqualTo(2);
    assertThat(test.statistic()).isCloseTo(0.8, within(1e-12));
    BetaDistribution share = BetaDistribution.of(0.5, 2.5);
    assertThat(test.pValue()).isCloseTo(3 * share.survivalProbability(0.8), within(1e-12));
    assertThat(test.criticalValue())
        .isCloseTo(share.inverseSurvivalProbability(0.05 / 3), within(1e-9));
  }

  @Test
  void cochranOnTheGears() {
    TreeMap<Integer, double[]> batches = new TreeMap<>();
    for (NamedCsvRecord row : Oracle.table("nist_gear.csv")) {
      double y = Double.parseDouble(row.getField("diameter"));
      batches.merge(
          Integer.parseInt(row.getField("batch")),
          new double[] {y},
          (a, b) -> DoubleStream.concat(Arrays.stream(a), Arrays.stream(b)).toArray());
    }
    double[] variances = batches.values().stream().mapToDouble(Summary::variance).toArray();
    Cochran five = cochran(variances, 10, 0.05);
    Cochran one = cochran(variances, 10, 0.01);
    ORACLE.check("O9", "C", five.statistic());
    ORACLE.check("O9", "critical 0.05", five.criticalValue());
    ORACLE.check("O9", "critical 0.01", one.criticalValue());
    assertThat(List.copyOf(batches.keySet()).get(five.index())).isEqualTo(6);
    assertThat(five.extreme()).isTrue();
    assertThat(one.extreme()).isFalse();
    assertThat(five.pValue()).isBetween(0.01, 0.05);
  }

  @Test
  void withoutSpreadThereIsNoAnswer() {
    double[] equal = {4, 4, 4, 4};
    assertThat(Grubbs.test(equal, 0.05)).isEmpty();
    assertThat(Cochran.test(new double[] {0, 0}, new int[] {3, 3}, 0.05)).isEmpty();
    assertThat(GeneralizedEsd.test(equal, 2, 0.05).steps()).isEmpty();
    GeneralizedEsd stops = GeneralizedEsd.test(new double[] {4, 4, 4, 4, 4, 9}, 3, 0.05);
    assertThat(stops.steps()).hasSize(1);
    assertThat(stops.extremeCount()).isEqualTo(1);
  }

  @Test
  void mistakesAreNamed() {
    assertThatThrownBy(() -> GeneralizedEsd.test(new double[] {1, 2, 3, 4}, 3, 0.05))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessage("mostExtremes must lie in 1..2, was 3");
    assertThatThrownBy(() -> Cochran.test(new double[] {1, -1}, new int[] {3, 3}, 0.05))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessage("variances[1] must be 0 or above and finite, was -1.0");
    assertThatThrownBy(() -> Grubbs.test(new double[8], 5))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessage("significance must lie between 0 and 1 (0.95 means 95 %), was 5.0");
  }
}
