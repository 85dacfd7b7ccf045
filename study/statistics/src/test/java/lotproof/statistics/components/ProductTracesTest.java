package lotproof.statistics.components;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Traces from probes beside the exact ones, and fits of studies that need them. */
class ProductTracesTest {
  private static final double[] SDS = {1, 0.5, 0.2, 0.3, 0.4};

  @ParameterizedTest(name = "seed {0}, pair {1}, {2} repeated, residual {3}")
  @CsvSource({
    "1, false, 0, 0.3",
    "2, true, 600, 0.3",
    "3, true, 90, 0.3",
    "4, false, 600, 0.05",
    "5, true, 90, 0",
    "6, false, 0, 0.0001"
  })
  void agreeWithTheExactOnes(long seed, boolean pair, int repeated, double residual) {
    Studies.Shape shape = new Studies.Shape(300, 300, 2, repeated, pair, true);
    CellMeans data = Studies.rotation(shape, SDS, 0.02, seed).cells();
    double[] theta = new double[data.components()];
    for (int k = 0; k < theta.length; k++) {
      theta[k] = k == 1 && seed % 2 == 0 ? 0 : 1.0 / (k + 1);
    }
    theta[theta.length - 1] = Math.max(residual, 1e-3);
    MixedModelEquations likelihood = new MixedModelEquations(data);
    assertThat(likelihood.logLikelihood(theta)).isFinite();
    double[][] exact = new ProductTraces(likelihood, false).of();
    double[][] probed = new ProductTraces(likelihood, true).of();
    for (int k = 0; k < theta.length; k++) {
      for (int l = 0; l < theta.length; l++) {
        boolean lots = isFew(data, k) || isFew(data, l);
        double size = Math.sqrt(exact[k][k] * exact[l][l]);
        // sqrt(2 / (32 probes x 300 levels)) is 1.4 %
        assertThat(probed[k][l])
            .as("seed " + seed + ", " + k + " with " + l)
            .isCloseTo(exact[k][l], within((lots ? 1e-8 : 0.05) * size));
      }
    }
  }

  @ParameterizedTest(name = "pair {0}, {1} repeated")
  @CsvSource({"false, 0", "true, 40", "true, 10", "false, 10"})
  void areTheSameFromRowsAndFromLevels(boolean pair, int repeated) {
    Studies.Shape shape = new Studies.Shape(20, 20, 2, repeated, pair, true);
    CellMeans data = Studies.rotation(shape, SDS, 0.02, 3).cells();
    double[] theta = new double[data.components()];
    Arrays.setAll(theta, k -> k == 1 ? 0 : 1.0 / (k + 1));
    for (Likelihood likelihood :
        List.of(new MixedModelEquations(data), new DenseLikelihood(data))) {
      assertThat(likelihood.logLikelihood(theta)).isFinite();
      ProductTraces traces = new ProductTraces(likelihood);
      double[][] byRows = traces.fromRows();
      double[][] byLevels = traces.fromLevels();
      for (int k = 0; k < theta.length; k++) {
        for (int l = 0; l < theta.length; l++) {
          double size = Math.sqrt(byLevels[k][k] * byLevels[l][l]);
          assertThat(byRows[k][l]).isCloseTo(byLevels[k][l], within(1e-10 * size));
        }
      }
    }
  }

  private static boolean isFew(CellMeans data, int k) {
    return k < data.factors() && data.levelCount[k] < 10;
  }

  @Test
  void aLargeStudyIsFittedToItsTop() {
    Studies.Shape shape = new Studies.Shape(2000, 2000, 2, 1300, true, true);
    Observations study = Studies.rotation(shape, SDS, 0.02, 7);
    CellMeans data = study.cells();
    assertThat(ProductTraces.probed(data)).isTrue();
    ComponentsFit fit = Studies.fit(study);
    assertThat(fit.record().converged()).as(fit.record().toString()).isTrue();
    double[] score = fit.scaledScore();
    double[][] information = fit.scaledInformation();
    for (int k = 0; k < score.length; k++) {
      if (fit.variances()[k] == 0) {
        assertThat(score[k]).isNegative();
        continue;
      }
      // slopes in units of the standard deviation that the information gives them
      assertThat(Math.abs(score[k]) / Math.sqrt(information[k][k])).isLessThan(1e-5);
    }
    double[] truth = {SDS[0], SDS[1]};
    assertThat(Math.sqrt(fit.variances()[fit.index(new Component("cell"))]))
        .isCloseTo(truth[0], within(0.1));
    assertThat(Math.sqrt(fit.variances()[fit.index(new Component("board"))]))
        .isCloseTo(truth[1], within(0.1));
  }
}
