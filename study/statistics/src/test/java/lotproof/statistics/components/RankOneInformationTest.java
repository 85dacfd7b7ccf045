package lotproof.statistics.components;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import lotproof.statistics.components.FitOptions.Criterion;
import org.apache.commons.rng.UniformRandomProvider;
import org.apache.commons.rng.simple.RandomSource;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * Against the theorem that the symmetric rank one update knows a quadratic function after as many
 * independent steps as it has variables (Nocedal and Wright 2006, theorem 6.1; from memory).
 */
class RankOneInformationTest {
  private static final int COMPONENTS = 4;

  @ParameterizedTest(name = "seed {0}")
  @ValueSource(longs = {1, 2, 3, 4, 5})
  void knowsTheCurvatureOfAQuadraticAfterIndependentSteps(long seed) {
    UniformRandomProvider random = RandomSource.XO_SHI_RO_256_PP.create(seed);
    double[][] exact = positiveDefinite(random);
    double[][] average = positiveDefinite(random);
    RankOneInformation curvature = new RankOneInformation(COMPONENTS);
    double[] theta = point(random);
    double[][] seen = curvature.at(theta, slope(exact, theta), average);
    assertThat(seen).isDeepEqualTo(average);
    for (int step = 0; step < COMPONENTS; step++) {
      theta = point(random);
      seen = curvature.at(theta, slope(exact, theta), average);
    }
    for (int k = 0; k < COMPONENTS; k++) {
      for (int l = 0; l < COMPONENTS; l++) {
        assertThat(seen[k][l]).isCloseTo(exact[k][l], within(1e-9));
      }
    }
  }

  @ParameterizedTest(name = "unit {0}")
  @ValueSource(doubles = {1e-6, 1e6})
  void doesNotDependOnTheUnitOfAVariance(double unit) {
    UniformRandomProvider random = RandomSource.XO_SHI_RO_256_PP.create(7);
    double[][] exact = positiveDefinite(random);
    double[][] average = positiveDefinite(random);
    double[] first = point(random);
    double[] second = point(random);
    double[][] plain = seen(exact, average, first, second);
    double[][] other =
        seen(
            inUnit(exact, unit),
            inUnit(average, unit),
            new double[] {first[0] * unit, first[1], first[2], first[3]},
            new double[] {second[0] * unit, second[1], second[2], second[3]});
    double[][] expected = inUnit(plain, unit);
    for (int k = 0; k < COMPONENTS; k++) {
      for (int l = 0; l < COMPONENTS; l++) {
        double value = expected[k][l];
        assertThat(other[k][l]).isCloseTo(value, within(1e-9 * Math.abs(value)));
      }
    }
  }

  @ParameterizedTest(name = "scale {0}")
  @ValueSource(doubles = {0, 1e-3, 1})
  void learnsNothingFromAStepThatAgreesAlready(double scale) {
    UniformRandomProvider random = RandomSource.XO_SHI_RO_256_PP.create(9);
    double[][] exact = positiveDefinite(random);
    double[] first = point(random);
    double[] second = first.clone();
    for (int k = 0; k < COMPONENTS; k++) {
      second[k] += scale * random.nextDouble();
    }
    double[][] seen = seen(exact, exact, first, second);
    for (int k = 0; k < COMPONENTS; k++) {
      assertThat(seen[k]).containsExactly(exact[k], within(1e-9));
    }
  }

  @Test
  void learnsNothingFromWhereItLeftOff() {
    UniformRandomProvider random = RandomSource.XO_SHI_RO_256_PP.create(11);
    double[][] average = positiveDefinite(random);
    double[][] exact = positiveDefinite(random);
    RankOneInformation curvature = new RankOneInformation(COMPONENTS);
    double[] first = point(random);
    double[] second = point(random);
    curvature.at(first, slope(exact, first), average);
    double[][] seen = curvature.at(second, slope(exact, second), average);
    curvature.leave();
    double[] third = point(random);
    assertThat(curvature.at(third, new double[COMPONENTS], average)).isDeepEqualTo(seen);
  }

  /** The observed information of a fit is average plus correction, at any scale of the values. */
  @ParameterizedTest(name = "factor {0}")
  @ValueSource(doubles = {1, 1e-3, 7})
  void beginsAtATopWithTheObservedInformationThere(double factor) {
    Observations study =
        Studies.rotation(
            new Studies.Shape(12, 12, 3, 4, false, false),
            new double[] {1, 0.5, 0.2, 0.3, 0.4},
            0.1,
            5);
    ComponentsFit fit = Studies.fit(study, Criterion.REML);
    double[] there = fit.scaledVariances();
    double[] theta = java.util.Arrays.stream(there).map(v -> factor * v).toArray();
    LikelihoodSurface surface = fit.surface();
    surface.logLikelihood(there);
    double[][] average = surface.derivatives().average();
    double[][] observed = surface.derivatives().observed();
    double[][] elsewhere = new double[there.length][there.length];
    for (int k = 0; k < there.length; k++) {
      for (int l = 0; l < there.length; l++) {
        elsewhere[k][l] = average[k][l] / (factor * factor);
      }
    }
    double[][] seen = RankOneInformation.like(fit, theta).corrected(elsewhere);
    for (int k = 0; k < there.length; k++) {
      for (int l = 0; l < there.length; l++) {
        assertThat(there[k]).isPositive();
        double expected = observed[k][l] / (factor * factor);
        assertThat(seen[k][l])
            .isCloseTo(expected, within(1e-8 * (Math.abs(expected) + elsewhere[k][k])));
      }
    }
  }

  private static double[][] seen(
      double[][] exact, double[][] average, double[] first, double[] second) {
    RankOneInformation curvature = new RankOneInformation(COMPONENTS);
    curvature.at(first, slope(exact, first), average);
    return curvature.at(second, slope(exact, second), average);
  }

  /** The first variance in another unit: its row and column shrink as it grows. */
  private static double[][] inUnit(double[][] curvature, double unit) {
    double[][] result = new double[COMPONENTS][COMPONENTS];
    for (int k = 0; k < COMPONENTS; k++) {
      for (int l = 0; l < COMPONENTS; l++) {
        result[k][l] = curvature[k][l] / ((k == 0 ? unit : 1) * (l == 0 ? unit : 1));
      }
    }
    return result;
  }

  /** Slope of -1/2 theta' C theta. */
  private static double[] slope(double[][] curvature, double[] theta) {
    double[] result = new double[COMPONENTS];
    for (int k = 0; k < COMPONENTS; k++) {
      result[k] = -Dense.dot(curvature[k], theta);
    }
    return result;
  }

  private static double[] point(UniformRandomProvider random) {
    return random.doubles(COMPONENTS).toArray();
  }

  private static double[][] positiveDefinite(UniformRandomProvider random) {
    double[][] root = new double[COMPONENTS][COMPONENTS];
    for (double[] row : root) {
      for (int l = 0; l < COMPONENTS; l++) {
        row[l] = random.nextDouble() - 0.5;
      }
    }
    double[][] result = new double[COMPONENTS][COMPONENTS];
    for (int k = 0; k < COMPONENTS; k++) {
      for (int l = 0; l < COMPONENTS; l++) {
        result[k][l] = Dense.dot(root[k], root[l]) + (k == l ? 0.5 : 0);
      }
    }
    return result;
  }
}
