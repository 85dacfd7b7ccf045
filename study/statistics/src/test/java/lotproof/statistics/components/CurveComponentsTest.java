package lotproof.statistics.components;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import lotproof.statistics.FoldedNormal;
import lotproof.statistics.components.FitOutcome.NotEstimable;
import org.apache.commons.rng.UniformRandomProvider;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class CurveComponentsTest {
  private static final double[] SDS = {1, 0.6, 0.1, 0.2, 0};

  private static Observations study(long seed) {
    return Studies.rotation(new Studies.Shape(30, 30, 2, 6, false, false), SDS, 0, seed);
  }

  /** Curves that are multiples of one value, so that everything is known from that value. */
  private static double[][] multiples(double[] values, double... factors) {
    double[][] curves = new double[values.length][factors.length];
    for (int run = 0; run < values.length; run++) {
      for (int x = 0; x < factors.length; x++) {
        curves[run][x] = factors[x] * values[run];
      }
    }
    return curves;
  }

  private static CurveComponents estimate(double[][] curves, Observations study) {
    FitOutcome outcome = CurveComponents.estimate(curves, study.factors(), List.of());
    assertThat(outcome).isInstanceOf(CurveComponents.class);
    return (CurveComponents) outcome;
  }

  @ParameterizedTest(name = "seed {0}")
  @ValueSource(longs = {1, 2, 3})
  void onePointRepeatsTheUnivariateFit(long seed) {
    Observations study = study(seed);
    ComponentsFit fit = Studies.fit(study);
    assertThat(fit.record().atBoundary()).isEmpty();
    CurveComponents curves = estimate(multiples(study.values(), 1), study);
    for (Component name : fit.components()) {
      assertThat(curves.covariance(name)[0][0])
          .isCloseTo(fit.variance(name), within(1e-8 * fit.variance(name)));
    }
    assertThat(curves.means()[0]).isCloseTo(fit.mean(), within(1e-9));
    assertThat(Math.sqrt(curves.meanCovariance[0][0]))
        .isCloseTo(fit.meanStandardError(), within(1e-8));
    FutureUnitLimits limits = FutureUnitLimits.of(fit, Set.of(), 0.95, 0.95);
    double inflation = Studies.inflation(multiples(study.values(), 1), study.factors(), 0.95);
    assertThat(inflation).isCloseTo(limits.totalSdUpper() / limits.totalSd(), within(1e-8));
    double sd =
        inflation
            * Math.hypot(
                Math.sqrt(curves.futureCovariance[0][0]), Math.sqrt(curves.meanCovariance[0][0]));
    assertThat(curves.future(inflation, true).bound(0.95))
        .isCloseTo(FoldedNormal.halfWidth(fit.mean(), sd, 0.95), within(1e-6 * sd));
  }

  @Test
  void proportionalPointsGiveOneShape() {
    Observations study = study(4);
    CurveComponents curves = estimate(multiples(study.values(), 1, 2, -0.5, 0), study);
    double[][] cell = curves.covariance(new Component("cell"));
    assertThat(cell[0][1]).isCloseTo(2 * cell[0][0], within(1e-9));
    assertThat(cell[2][2]).isCloseTo(0.25 * cell[0][0], within(1e-9));
    assertThat(cell[1][2]).isCloseTo(-cell[0][0], within(1e-9));
    assertThat(cell[3]).containsExactly(new double[4], within(1e-12));
    assertThat(curves.means()[3]).isZero();
    double alone = estimate(multiples(study.values(), 2), study).future(1.1, true).bound(0.9);
    assertThat(curves.future(1.1, true).bound(0.9)).isCloseTo(alone, within(1e-5 * alone));
  }

  @Test
  void findsTheSameFromVariancesThatAreKnown() {
    Observations study = study(12);
    double[] first = study.values();
    double[][] curves = multiples(first, 1, 0.4, 2);
    UniformRandomProvider random = Studies.random(12);
    for (double[] run : curves) {
      run[1] += 0.5 * random.nextDouble();
    }
    List<double[]> known = new ArrayList<>();
    for (int x = 0; x < 3; x++) {
      double[] values = new double[first.length];
      for (int run = 0; run < values.length; run++) {
        values[run] = curves[run][x];
      }
      known.add(Studies.fit(study.withValues(values)).variances());
    }
    CurveComponents far = estimate(curves, study);
    CurveComponents near =
        (CurveComponents) CurveComponents.estimate(curves, study.factors(), known);
    for (Component name : far.components()) {
      for (int x = 0; x < 3; x++) {
        assertThat(near.covariance(name)[x]).containsExactly(far.covariance(name)[x], within(1e-6));
      }
    }
  }

  @Test
  void largeInventedStudyFindsTheKnownCovariance() {
    // two independent halves: x = c + b + e, and a bow that only cells have
    Studies.Shape shape = new Studies.Shape(200, 200, 2, 20, false, false);
    Observations gain = Studies.rotation(shape, SDS, 0, 7);
    Observations bow = Studies.rotation(shape, new double[] {0.5, 0, 0, 0.1, 0}, 0, 8);
    double[][] curves = new double[gain.size()][3];
    for (int run = 0; run < curves.length; run++) {
      curves[run][0] = gain.value(run);
      curves[run][1] = gain.value(run) + bow.value(run);
      curves[run][2] = bow.value(run);
    }
    CurveComponents result = estimate(curves, gain);
    assertThat(result.covariance(new Component("cell"))[0][0]).isCloseTo(1, within(0.25));
    assertThat(result.covariance(new Component("cell"))[2][2]).isCloseTo(0.25, within(0.07));
    assertThat(result.covariance(new Component("cell"))[0][2]).isCloseTo(0, within(0.1));
    assertThat(result.covariance(new Component("cell"))[1][1]).isCloseTo(1.25, within(0.3));
    assertThat(result.covariance(new Component("board"))[0][0]).isCloseTo(0.36, within(0.1));
    assertThat(result.covariance(new Component("board"))[2][2]).isCloseTo(0, within(0.02));
  }

  @Test
  void refusals() {
    Observations study = study(9);
    assertThat(CurveComponents.estimate(new double[study.size()][2], study.factors(), List.of()))
        .isInstanceOf(NotEstimable.class);
    CurveComponents curves = estimate(multiples(study.values(), 1), study);
    for (double none : new double[] {0, -1, Double.NaN, Double.POSITIVE_INFINITY}) {
      assertThatThrownBy(() -> curves.future(none, true))
          .isInstanceOf(IllegalArgumentException.class)
          .hasMessageContaining("inflation");
    }
    assertThatThrownBy(() -> curves.covariance(new Component("lot")))
        .isInstanceOf(IllegalArgumentException.class);
  }
}
