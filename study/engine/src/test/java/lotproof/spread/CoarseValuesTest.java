package lotproof.spread;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Random;
import java.util.function.DoublePredicate;
import java.util.stream.IntStream;
import lotproof.model.MeasuredValues;
import lotproof.model.Role;
import lotproof.spread.CharacteristicSpread.LotSummary;
import lotproof.spread.SpreadOutcome.Caveat;
import lotproof.spread.SpreadOutcome.Estimated;
import lotproof.spread.SpreadOutcome.ToleranceLimits;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Limits of values that come in steps which are coarse against their spread. */
class CoarseValuesTest {
  private static final long SEED = 20_280_909;
  private static final int DRAWS = 5000;
  private static final int STUDIES = Integer.getInteger("guarantee.studies", 2000) / 2;

  private static Optional<Estimated> estimated(double[] values) {
    MeasuredValues measured =
        new MeasuredValues("value", "value", "g", Arrays.stream(values).boxed().toList(), Map.of());
    SpreadOptions d = SpreadOptions.DEFAULTS;
    return new Spread(new SpreadOptions(d.content(), d.confidence(), Optional.empty(), false))
        .of(measured)
        .estimated();
  }

  @Test
  void twoValuedDataKeepSixOfFiftyWithinTheLimits() {
    double[] values = new double[50];
    IntStream.of(3, 9, 14, 20, 33, 41).forEach(i -> values[i] = 1);
    Estimated spread = estimated(values).orElseThrow();
    assertThat(spread.caveats()).containsExactly(Caveat.COARSE);
    assertThat(spread.shape()).isEmpty();
    // one step beyond both values, which is wider than the model with half a step
    assertThat(spread.limits().upper()).isEqualTo(2);
    assertThat(spread.limits().onlyBelow()).isEqualTo(2);
    assertThat(spread.limits().aboutZero()).isEqualTo(2);
    assertThat(spread.limits().lower()).isLessThanOrEqualTo(-1);
  }

  @Test
  void fineValuesKeepTheirLimitsAndTheirShape() {
    Random random = new Random(SEED);
    Estimated spread =
        estimated(random.doubles(50).map(v -> Math.rint(10 * random.nextGaussian())).toArray())
            .orElseThrow();
    assertThat(spread.caveats()).doesNotContain(Caveat.COARSE);
    assertThat(spread.shape()).isPresent();
    ToleranceLimits limits = spread.limits();
    assertThat((limits.lower() + limits.upper()) / 2).isCloseTo(spread.mean(), within(1e-9));
  }

  @Test
  void rowsOfALotWithoutSerialsAreUnits() {
    MeasuredValues values =
        new MeasuredValues(
            "value",
            "value",
            "g",
            List.of(1.0, 2.0, 3.0, 7.5, 9.5),
            Map.of(Role.CELL_LOT, List.of("A", "A", "A", "B", "B")));
    List<LotSummary> lots = LotSummaries.of(values);
    assertThat(lots).extracting(LotSummary::units).containsExactly(3, 2);
    assertThat(lots.get(0).standardDeviation()).isEqualTo(1);
    assertThat(lots.get(1).smallest()).isEqualTo(7.5);
  }

  /** Draws and content of a population in steps of 1, by the chances of 0, 1, 2 ... */
  private record Steps(List<Double> chances) {
    double[] draw(Random random, int n) {
      return random.doubles(n).map(this::value).toArray();
    }

    private double value(double u) {
      double sum = 0;
      for (int i = 0; i < chances.size(); i++) {
        sum += chances.get(i);
        if (u < sum) {
          return i;
        }
      }
      return chances.size() - 1;
    }

    double content(DoublePredicate within) {
      return IntStream.range(0, chances.size())
          .filter(i -> within.test(i))
          .mapToDouble(chances::get)
          .sum();
    }
  }

  /** A normal population of this standard deviation, rounded to whole steps. */
  private static Steps rounded(double sd, Random random) {
    double[] chances = new double[(int) (12 * sd) + 14];
    double middle = chances.length / 2.0 + random.nextDouble() - 0.5;
    random
        .doubles(DRAWS)
        .map(u -> middle + sd * random.nextGaussian())
        .forEach(x -> chances[Math.max(0, Math.min(chances.length - 1, (int) Math.rint(x)))] += 1);
    return new Steps(Arrays.stream(chances).map(count -> count / DRAWS).boxed().toList());
  }

  private static void holds(String name, int n, boolean known, Steps given, double sd) {
    Random random = new Random(SEED + name.hashCode());
    int between = 0;
    int above = 0;
    int about = 0;
    int studies = 0;
    for (int s = 0; s < STUDIES; s++) {
      Steps population = known ? given : rounded(sd, random);
      double[] values = population.draw(random, n);
      Optional<Estimated> spread = estimated(values);
      if (spread.isEmpty()) {
        continue;
      }
      studies++;
      ToleranceLimits l = spread.get().limits();
      between += population.content(v -> v >= l.lower() && v <= l.upper()) >= 0.95 ? 1 : 0;
      above += population.content(v -> v <= l.onlyBelow()) >= 0.95 ? 1 : 0;
      about += population.content(v -> Math.abs(v) <= l.aboutZero()) >= 0.95 ? 1 : 0;
    }
    double all = Math.max(1, studies);
    String row =
        String.format(
            Locale.ROOT,
            "| %s, n=%d | %.3f | %.3f | %.3f | %d |",
            name,
            n,
            above / all,
            between / all,
            about / all,
            STUDIES - studies);
    System.out.println(row);
    double least = 0.93 - 3 * Math.sqrt(0.95 * 0.05 / all);
    assertThat(List.of(above / all, between / all, about / all))
        .as(row)
        .allMatch(share -> share >= least);
  }

  @ParameterizedTest
  @Tag("guarantee")
  @CsvSource({"0.4, 50", "0.7, 50", "1, 50", "2, 50", "3, 50", "4.5, 50", "1, 20", "3, 20"})
  void normalValuesInSteps(double sd, int n) {
    holds("normal of sd %s steps".formatted(sd), n, false, new Steps(List.of(1.0)), sd);
  }

  @ParameterizedTest
  @Tag("guarantee")
  @CsvSource({"0.88, 50", "0.94, 50", "0.97, 50", "0.5, 50", "0.88, 20"})
  void twoValues(double zeros, int n) {
    Steps two = new Steps(List.of(zeros, 1 - zeros));
    holds("two values, %s of one".formatted(zeros), n, true, two, 0);
  }

  @ParameterizedTest
  @Tag("guarantee")
  @CsvSource({"0.8, 0.1, 50", "0.88, 0.06, 50", "0.9, 0.04, 50", "0.88, 0.06, 20"})
  void threeValues(double zeros, double ones, int n) {
    Steps three = new Steps(List.of(zeros, ones, 1 - zeros - ones));
    holds("three values, %s and %s".formatted(zeros, ones), n, true, three, 0);
  }
}
