package lotproof.statistics.shape;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.Random;
import lotproof.statistics.Oracle;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.Test;

class BoxCoxTest {
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
}
