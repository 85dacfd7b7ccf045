package lotproof.statistics.components;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import java.util.function.UnaryOperator;
import lotproof.statistics.Interval;
import lotproof.statistics.components.BestLinearPredictors.FactorEffects;
import lotproof.statistics.components.FitOutcome.NotEstimable;
import org.apache.commons.rng.UniformRandomProvider;
import org.apache.commons.rng.sampling.PermutationSampler;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** Results do not depend on names, order or unit. */
class InvarianceTest {
  private static final double[] SDS = {1, 0.5, 0.15, 0.2, 0.3};
  private static final List<String> ORDER = List.of("residual", "pair", "board", "cell", "cellLot");

  private static Observations study(long seed) {
    boolean pair = seed % 2 == 0;
    Studies.Shape shape = new Studies.Shape(9, 8, 2, pair ? 5 : 3, pair, seed % 3 == 0);
    return Studies.rotation(shape, SDS, 0.1, seed);
  }

  /** Everything a caller sees, in units of the observations except the last parts. */
  private record Picture(List<Double> lengths, List<Double> pureNumbers) {}

  private static Picture picture(Observations study) {
    ComponentsFit fit = Studies.fit(study);
    List<Double> lengths = new ArrayList<>();
    for (String name : ORDER) {
      Component component = new Component(name);
      if (fit.components().contains(component)) {
        lengths.add(Math.sqrt(fit.variance(component)));
      }
    }
    lengths.add(fit.meanStandardError());
    for (Interval interval : ProfileIntervals.ofStandardDeviations(fit, 0.9)) {
      lengths.add(interval.lower());
      lengths.add(interval.upper());
    }
    FutureUnitLimits limits = FutureUnitLimits.of(fit, Set.of(), 0.95, 0.9);
    lengths.add(limits.totalSdUpper());
    lengths.add(limits.twoSidedHalfWidth());
    lengths.add(limits.upper() - limits.mean());
    return new Picture(
        lengths, List.of(limits.effectiveDegreesOfFreedom(), limits.meanDegreesOfFreedom()));
  }

  private static void same(Picture actual, Picture expected, double unit) {
    double size = expected.lengths.stream().mapToDouble(v -> v).max().orElseThrow() * unit;
    for (int i = 0; i < expected.lengths.size(); i++) {
      assertThat(actual.lengths.get(i))
          .isCloseTo(expected.lengths.get(i) * unit, within(1e-7 * size));
    }
    for (int i = 0; i < expected.pureNumbers.size(); i++) {
      double value = expected.pureNumbers.get(i);
      assertThat(actual.pureNumbers.get(i)).isCloseTo(value, within(1e-6 * value));
    }
  }

  private static Observations mapped(Observations study, UnaryOperator<Double> map) {
    double[] values = study.values();
    for (int i = 0; i < values.length; i++) {
      values[i] = map.apply(values[i]);
    }
    return study.withValues(values);
  }

  @ParameterizedTest(name = "seed {0}, unit {1}")
  @CsvSource({"1,1e-30", "2,1e-12", "3,-1", "4,1e9", "5,1e40", "6,-3.7e-9", "7,454", "8,1e-60"})
  void changeOfUnit(long seed, double unit) {
    Observations study = study(seed);
    same(picture(mapped(study, v -> v * unit)), picture(study), Math.abs(unit));
  }

  @ParameterizedTest(name = "seed {0}, shift {1}")
  @CsvSource({"11,1000", "12,-5", "13,1e6", "14,0.001"})
  void shiftMovesTheMeanOnly(long seed, double shift) {
    Observations study = study(seed);
    Observations moved = mapped(study, v -> v + shift);
    same(picture(moved), picture(study), 1);
    double mean = Studies.fit(study).mean();
    assertThat(Studies.fit(moved).mean())
        .isCloseTo(mean + shift, within(1e-9 * (1 + Math.abs(shift))));
  }

  @ParameterizedTest(name = "seed {0}")
  @ValueSource(longs = {21, 22, 23, 24, 25, 26})
  void orderOfRowsAndNamesOfUnits(long seed) {
    Observations study = study(seed);
    UniformRandomProvider random = Studies.random(seed);
    int[] order = PermutationSampler.natural(study.size());
    PermutationSampler.shuffle(random, order);
    double[] values = new double[order.length];
    for (int i = 0; i < order.length; i++) {
      values[i] = study.value(order[i]);
    }
    List<RandomFactor> factors = new ArrayList<>();
    for (RandomFactor factor : study.factors()) {
      int[] names = PermutationSampler.natural(factor.levelCount());
      PermutationSampler.shuffle(random, names);
      int[] levels = new int[order.length];
      for (int i = 0; i < order.length; i++) {
        levels[i] = names[factor.level(order[i])];
      }
      factors.add(new RandomFactor(factor.component(), levels, factor.levelCount()));
    }
    same(picture(new Observations(values, factors)), picture(study), 1);
  }

  @ParameterizedTest(name = "seed {0}")
  @ValueSource(longs = {31, 32, 33})
  void unusedLevelsChangeNothing(long seed) {
    Observations study = study(seed);
    List<RandomFactor> wider = new ArrayList<>();
    for (RandomFactor factor : study.factors()) {
      wider.add(new RandomFactor(factor.component(), factor.levelOf(), factor.levelCount() + 3));
    }
    Observations other = new Observations(study.values(), wider);
    same(picture(other), picture(study), 1);
    ComponentsFit fit = Studies.fit(other);
    FactorEffects cells = BestLinearPredictors.predict(fit).get(0);
    int last = wider.get(0).levelCount() - 1;
    assertThat(cells.effects()[last]).isZero();
    assertThat(cells.standardized()[last]).isZero();
  }

  @ParameterizedTest(name = "seed {0}")
  @ValueSource(longs = {41, 42, 43})
  void reflectionSwapsTheLimits(long seed) {
    Observations study = study(seed);
    ComponentsFit fit = Studies.fit(study);
    ComponentsFit mirror = Studies.fit(mapped(study, v -> -v));
    FutureUnitLimits a = FutureUnitLimits.of(fit, Set.of(), 0.99, 0.95);
    FutureUnitLimits b = FutureUnitLimits.of(mirror, Set.of(), 0.99, 0.95);
    assertThat(b.lower()).isCloseTo(-a.upper(), within(1e-8));
    assertThat(b.symmetricHalfWidth()).isCloseTo(a.symmetricHalfWidth(), within(1e-8));
  }

  @ParameterizedTest(name = "seed {0}")
  @ValueSource(longs = {61, 62, 63, 64, 65, 66})
  void limitsGrowWithContentAndConfidence(long seed) {
    ComponentsFit fit = Studies.fit(study(seed));
    double[] shares = {0.6, 0.8, 0.9, 0.95, 0.99};
    for (double fixed : shares) {
      FutureUnitLimits content = FutureUnitLimits.of(fit, Set.of(), shares[0], fixed);
      FutureUnitLimits confidence = FutureUnitLimits.of(fit, Set.of(), fixed, shares[0]);
      for (int i = 1; i < shares.length; i++) {
        FutureUnitLimits more = FutureUnitLimits.of(fit, Set.of(), shares[i], fixed);
        grows(content, more);
        content = more;
        more = FutureUnitLimits.of(fit, Set.of(), fixed, shares[i]);
        grows(confidence, more);
        confidence = more;
      }
    }
  }

  private static void grows(FutureUnitLimits before, FutureUnitLimits after) {
    assertThat(after.upper()).isGreaterThan(before.upper());
    assertThat(after.lower()).isLessThan(before.lower());
    assertThat(after.twoSidedHalfWidth()).isGreaterThan(before.twoSidedHalfWidth());
    assertThat(after.symmetricHalfWidth()).isGreaterThan(before.symmetricHalfWidth());
  }

  @ParameterizedTest(name = "seed {0}")
  @ValueSource(longs = {51, 52, 53, 54})
  void refitIsTheFitOfTheOtherValues(long seed) {
    Studies.Shape shape = new Studies.Shape(45, 45, 2, 10, true, false);
    ComponentsFit earlier = Studies.fit(Studies.rotation(shape, SDS, 0, seed));
    Observations other = Studies.rotation(shape, SDS, 0, seed + 100);
    ComponentsFit fresh = Studies.fit(other);
    ComponentsFit again =
        (ComponentsFit)
            ComponentsFitter.fit(
                earlier.observations().withValues(other.values()), FitOptions.REML);
    assertThat(again.variances()).containsExactly(fresh.variances(), within(1e-9));
    assertThat(again.mean()).isCloseTo(fresh.mean(), within(1e-10));
    assertThat(again.minusTwoLogLikelihood())
        .isCloseTo(fresh.minusTwoLogLikelihood(), within(1e-8));
    assertThat(again.observations().values()).isEqualTo(other.values());
    assertThat(ComponentsFitter.fit(other.withValues(new double[other.size()]), FitOptions.REML))
        .isInstanceOf(NotEstimable.class);
  }
}
