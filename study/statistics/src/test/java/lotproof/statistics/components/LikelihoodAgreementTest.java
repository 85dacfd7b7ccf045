package lotproof.statistics.components;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import lotproof.statistics.components.BestLinearPredictors.FactorEffects;
import lotproof.statistics.components.BestLinearPredictors.Residuals;
import lotproof.statistics.components.Observations.FixedColumn;
import org.apache.commons.math3.linear.RealMatrix;
import org.apache.commons.rng.UniformRandomProvider;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Both ways to compute the likelihood against each other and against its definition. */
class LikelihoodAgreementTest {
  private static final double[] SDS = {1, 0.5, 0.2, 0.3, 0.4};

  private static Observations study(long seed) {
    UniformRandomProvider random = Studies.random(seed);
    int cells = 4 + random.nextInt(5);
    int boards = 4 + random.nextInt(5);
    boolean lots = random.nextBoolean();
    boolean pair = random.nextBoolean();
    int repeated = pair || random.nextBoolean() ? 1 + random.nextInt(cells) : 0;
    Studies.Shape shape =
        new Studies.Shape(cells, boards, 2 + random.nextInt(2), repeated, pair, lots);
    Observations plain = Studies.rotation(shape, SDS, 0.1, seed);
    if (random.nextBoolean()) {
      return plain;
    }
    double[] column = new double[plain.size()];
    for (int i = 0; i < column.length; i++) {
      column[i] = i % 2 + 5;
    }
    return new Observations(
        plain.values(), plain.factors(), List.of(new FixedColumn("block", column)));
  }

  private static double[] point(int count, long seed) {
    UniformRandomProvider random = Studies.random(seed * 7919);
    double[] theta = new double[count];
    for (int k = 0; k < count; k++) {
      // one in four stands at zero, one in four next to it; never the residual
      double kind = k == count - 1 ? 1 : random.nextDouble();
      theta[k] = kind < 0.25 ? 0 : kind < 0.5 ? 1e-5 * random.nextDouble() : random.nextDouble();
    }
    theta[count - 1] += 0.01;
    return theta;
  }

  @ParameterizedTest(name = "seed {0}")
  @ValueSource(longs = {1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16, 17, 18, 19, 20})
  void bothWaysAgree(long seed) {
    CellMeans data = study(seed).cells();
    double[] theta = point(data.components(), seed);
    Likelihood fast = new MixedModelEquations(data);
    Likelihood dense = new DenseLikelihood(data);
    double value = dense.logLikelihood(theta);
    assertThat(fast.logLikelihood(theta)).isCloseTo(value, within(1e-9 * Math.abs(value)));
    Likelihood.Derivatives a = fast.derivatives();
    Likelihood.Derivatives b = dense.derivatives();
    close(a.score(), b.score(), 1e-8);
    for (int k = 0; k < theta.length; k++) {
      close(a.expected()[k], b.expected()[k], 1e-8);
      close(a.observed()[k], b.observed()[k], 1e-8);
      if (k < data.factors()) {
        close(fast.levelDiagonal(k), dense.levelDiagonal(k), 1e-8);
      }
    }
    close(fast.rowDiagonal(), dense.rowDiagonal(), 1e-8);
    close(fast.meanVarianceGradient(), dense.meanVarianceGradient(), 1e-8);
    close(fast.fixedEstimates(), dense.fixedEstimates(), 1e-8);
  }

  @ParameterizedTest(name = "seed {0}")
  @ValueSource(longs = {21, 22, 23, 24, 25, 26})
  void derivativesAreThoseOfTheDefinition(long seed) {
    Observations study = study(seed);
    CellMeans data = study.cells();
    double[] theta = point(data.components(), seed);
    for (int k = 0; k < theta.length; k++) {
      theta[k] += 0.05;
    }
    double unit = data.scale * data.scale;
    double[] unscaled = java.util.Arrays.stream(theta).map(v -> v * unit).toArray();
    SlowLikelihood slow = new SlowLikelihood(study);
    Likelihood fast = new MixedModelEquations(data);
    fast.logLikelihood(theta);
    Likelihood.Derivatives slopes = fast.derivatives();
    double[][] information = slopes.expected();
    RealMatrix projection = slow.projection(unscaled);
    for (int k = 0; k < theta.length; k++) {
      double expected = slow.slope(unscaled, k, 1e-5 * unit) * unit;
      assertThat(slopes.score()[k]).isCloseTo(expected, within(1e-4 * (1 + Math.abs(expected))));
      double[] above = theta.clone();
      double[] below = theta.clone();
      above[k] += 1e-5;
      below[k] -= 1e-5;
      fast.logLikelihood(above);
      double[] up = fast.derivatives().score();
      fast.logLikelihood(below);
      double[] down = fast.derivatives().score();
      for (int l = 0; l < theta.length; l++) {
        double curve = -(up[l] - down[l]) / 2e-5;
        double size = Math.abs(curve) + information[k][l] + 1;
        assertThat(slopes.observed()[k][l]).isCloseTo(curve, within(1e-5 * size));
        RealMatrix product =
            projection
                .multiply(slow.covarianceOf(k))
                .multiply(projection)
                .multiply(slow.covarianceOf(l));
        double trace = product.getTrace() / 2 * unit * unit;
        assertThat(information[k][l]).isCloseTo(trace, within(1e-8 * (1 + trace)));
      }
    }
  }

  @ParameterizedTest(name = "seed {0}")
  @ValueSource(longs = {31, 32, 33, 34, 35, 36, 37, 38, 39, 40, 41, 42})
  void fitIsASummitOfTheDefinition(long seed) {
    Observations study = study(seed);
    ComponentsFit fit = Studies.fit(study);
    SlowLikelihood slow = new SlowLikelihood(study);
    double[] theta = fit.variances();
    double best = fit.minusTwoLogLikelihood();
    double unit = fit.data().scale * fit.data().scale;
    assertThat(fit.record().converged()).as(fit.record().toString()).isTrue();
    assertThat(slow.minusTwoLog(theta)).isCloseTo(best, within(1e-7));
    double total = java.util.Arrays.stream(theta).sum();
    UniformRandomProvider random = Studies.random(seed);
    for (int k = 0; k < theta.length; k++) {
      double step = theta[k] > 0 ? 1e-4 * theta[k] : 1e-6 * total;
      double slope = slow.slope(theta, k, step) * Math.max(theta[k], 1e-3 * total);
      if (theta[k] > 0) {
        assertThat(slope).as("slope at " + fit.components().get(k)).isCloseTo(0, within(1e-4));
      } else {
        assertThat(slope).as("slope at bound").isLessThan(1e-6);
      }
      assertThat(fit.scaledScore()[k] / unit * (theta[k] > 0 ? theta[k] : total)).isLessThan(1e-7);
    }
    for (int trial = 0; trial < 20; trial++) {
      double[] other = new double[theta.length];
      for (int k = 0; k < other.length; k++) {
        other[k] = 1.5 * total * random.nextDouble() * (random.nextBoolean() ? 1 : 0.05);
      }
      assertThat(slow.minusTwoLog(other)).isGreaterThan(best - 1e-7);
    }
  }

  @ParameterizedTest(name = "seed {0}")
  @ValueSource(longs = {51, 52, 53, 54})
  void effectsAndResidualsAreThoseOfTheDefinition(long seed) {
    Observations study = study(seed);
    ComponentsFit fit = Studies.fit(study);
    double[] theta = fit.variances();
    SlowLikelihood slow = new SlowLikelihood(study);
    RealMatrix projection = slow.projection(theta);
    double[] py = projection.operate(slow.values()).toArray();
    List<FactorEffects> effects = BestLinearPredictors.predict(fit);
    // both sides invert V, whose condition is about total / residual
    double total = java.util.Arrays.stream(theta).sum();
    double tolerance = 1e-8 + 1e-14 * total / theta[theta.length - 1];
    for (int k = 0; k < effects.size(); k++) {
      RandomFactor factor = study.factors().get(k);
      double[] expected = new double[factor.levelCount()];
      double[] information = new double[factor.levelCount()];
      for (int i = 0; i < py.length; i++) {
        expected[factor.level(i)] += theta[k] * py[i];
        for (int j = 0; j < py.length; j++) {
          if (factor.level(i) == factor.level(j)) {
            information[factor.level(i)] += projection.getEntry(i, j);
          }
        }
      }
      close(effects.get(k).effects(), expected, tolerance);
      List<Double> errors = new ArrayList<>();
      for (double inside : information) {
        errors.add(Math.sqrt(Math.max(0, theta[k] - theta[k] * theta[k] * inside)));
      }
      double[] list = errors.stream().mapToDouble(v -> v).toArray();
      for (int i = 0; i < list.length && theta[k] > 1e-6; i++) {
        double spread = Math.sqrt(theta[k] - list[i] * list[i]);
        assertThat(effects.get(k).standardized()[i])
            .isCloseTo(expected[i] / spread, within(1e-5 * (1 + Math.abs(expected[i] / spread))));
      }
    }
    Residuals residuals = BestLinearPredictors.residuals(fit);
    double e = theta[theta.length - 1];
    for (int i = 0; i < py.length && e > 0; i++) {
      assertThat(residuals.values()[i]).isCloseTo(e * py[i], within(1e-8));
      double sd = e * Math.sqrt(projection.getEntry(i, i));
      if (sd > 1e-6) {
        assertThat(residuals.standardized()[i]).isCloseTo(e * py[i] / sd, within(1e-6));
      }
    }
  }

  private static void close(double[] actual, double[] expected, double tolerance) {
    double size = 0;
    for (double value : expected) {
      size = Math.max(size, Math.abs(value));
    }
    assertThat(actual).containsExactly(expected, within(tolerance * Math.max(size, 1e-12)));
  }
}
