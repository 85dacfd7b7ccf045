package lotproof.statistics.shape;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.Random;
import lotproof.statistics.Oracle;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class TransformationTest {
  private static final Oracle ORACLE = Oracle.load("boxcox");

  @AfterAll
  static void everyExpectedValueWasChecked() {
    ORACLE.assertAllUsed();
  }

  private static void check(String id, BoxCox fit) {
    ORACLE.check(id, "lambda", fit.lambda());
    ORACLE.check(id, "lower", fit.interval().lower());
    ORACLE.check(id, "upper", fit.interval().upper());
    ORACLE.check(id, "log-likelihood", fit.logLikelihood());
    ORACLE.check(id, "log-likelihood at 0", fit.logLikelihoodOfLogarithm());
    ORACLE.check(id, "log-likelihood at 1", fit.logLikelihoodUntransformed());
  }

  @Test
  void treesWithPredictors() {
    double[] girth = Oracle.column("r_trees.csv", "Girth");
    double[] height = Oracle.column("r_trees.csv", "Height");
    double[][] design = new double[girth.length][];
    for (int i = 0; i < girth.length; i++) {
      design[i] = new double[] {1, Math.log(height[i]), Math.log(girth[i])};
    }
    BoxCox fit = BoxCox.of(Oracle.column("r_trees.csv", "Volume"), design, 0.95);
    check("B1", fit);
    assertThat(fit.reading()).isEqualTo(BoxCox.Reading.LOGARITHM_FITS);
  }

  @Test
  void rivers() {
    BoxCox fit = BoxCox.of(Oracle.column("r_rivers.csv", "length"), 0.95);
    check("B2", fit);
    assertThat(fit.reading()).isEqualTo(BoxCox.Reading.NEITHER);
  }

  @Test
  void thePowerDoesNotDependOnTheUnit() {
    double[] y = Oracle.column("r_rivers.csv", "length");
    BoxCox metres = BoxCox.of(Arrays.stream(y).map(v -> 1609.344 * v).toArray(), 0.95);
    assertThat(metres.lambda()).isCloseTo(BoxCox.of(y, 0.95).lambda(), within(1e-7));
  }

  @Test
  void nearlyNormalValuesNeedNoTransformation() {
    Random random = new Random(8);
    double[] y = random.doubles(60).map(v -> 100 + random.nextGaussian()).toArray();
    assertThat(BoxCox.of(y, 0.95).reading()).isEqualTo(BoxCox.Reading.UNTRANSFORMED_WILL_DO);
  }

  @Test
  void signedErrorsHaveNoPower() {
    assertThatThrownBy(() -> BoxCox.of(new double[] {1, -1, 2, -2, 1}, 0.95))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessage("values must be above 0 and finite, was -1.0");
  }

  @ParameterizedTest
  @ValueSource(longs = {4L, 20261125L})
  void twoHeapsAreSeenAndOneIsNot(long seed) {
    Random random = new Random(seed);
    double[] one = new double[50];
    Arrays.setAll(one, i -> random.nextGaussian());
    double[] two = new double[50];
    Arrays.setAll(two, i -> (i < 20 ? 0 : 6) + random.nextGaussian());
    TwoGroups single = TwoGroups.of(one).orElseThrow();
    TwoGroups pair = TwoGroups.of(two).orElseThrow();
    assertThat(single.pValue()).as("seed %s", seed).isGreaterThan(0.01);
    assertThat(pair.pValue()).as("seed %s", seed).isLessThan(0.001);
    assertThat(pair.below()).isEqualTo(20);
    assertThat(pair.above()).isEqualTo(30);
    assertThat(pair.cut()).isBetween(1.5, 4.5);
    double[] moved = Arrays.stream(two).map(v -> 1e6 - 3 * v).toArray();
    assertThat(TwoGroups.of(moved).orElseThrow().share()).isCloseTo(pair.share(), within(1e-9));
  }

  @Tag("slow")
  @Test
  void falseAlarmsOfTwoHeapsKeepTheirLevel() {
    Random random = new Random(12);
    int alarms = 0;
    for (int i = 0; i < 100; i++) {
      double[] y = new double[30];
      Arrays.setAll(y, j -> random.nextGaussian());
      alarms += TwoGroups.of(y).orElseThrow().pValue() < 0.05 ? 1 : 0;
    }
    // Binomial(100, 0.05): 13 and more has a chance below 0.002.
    assertThat(alarms).isLessThan(13);
  }

  @Test
  void equalValuesHaveNoHeaps() {
    assertThat(TwoGroups.of(new double[12])).isEmpty();
  }
}
