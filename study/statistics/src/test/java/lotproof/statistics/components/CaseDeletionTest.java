package lotproof.statistics.components;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.stream.IntStream;
import lotproof.statistics.Oracle;
import org.apache.commons.math3.stat.correlation.SpearmansCorrelation;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** The first-order deletion is held against fits without the unit. */
class CaseDeletionTest {
  private static final double[] SDS = {1, 0.5, 0.15, 0.2, 0.3};

  /** Changes by deletion and by fit, unit by unit, over all components and the mean. */
  @SuppressWarnings("ArrayRecordComponent") // a bundle inside this test
  private record Changes(double[][] firstOrder, double[][] fitted) {}

  private static Changes changes(Observations study, String factor) {
    ComponentsFit fit = Studies.fit(study);
    CaseDeletion deletion = new CaseDeletion(fit);
    int f = fit.index(new Component(factor));
    RandomFactor units = study.factors().get(f);
    double[][] first = new double[units.levelCount()][];
    double[][] fitted = new double[units.levelCount()][];
    for (int u = 0; u < units.levelCount(); u++) {
      int unit = u;
      List<Integer> kept =
          IntStream.range(0, study.size()).filter(i -> units.level(i) != unit).boxed().toList();
      List<Integer> gone =
          IntStream.range(0, study.size()).filter(i -> units.level(i) == unit).boxed().toList();
      CaseDeletion.Change change = deletion.without(gone);
      first[u] = Arrays.copyOf(change.variances(), change.variances().length + 1);
      first[u][first[u].length - 1] = change.mean();
      ComponentsFit without = Studies.fit(part(study, kept));
      fitted[u] = new double[first[u].length];
      for (int k = 0; k < change.variances().length; k++) {
        fitted[u][k] = without.variances()[k] - fit.variances()[k];
      }
      fitted[u][fitted[u].length - 1] = without.mean() - fit.mean();
    }
    return new Changes(first, fitted);
  }

  private static Observations part(Observations study, List<Integer> kept) {
    double[] all = study.values();
    double[] values = kept.stream().mapToDouble(i -> all[i]).toArray();
    List<RandomFactor> factors = new ArrayList<>();
    for (RandomFactor factor : study.factors()) {
      List<String> labels = kept.stream().map(i -> "" + factor.level(i)).toList();
      factors.add(RandomFactor.of(factor.component(), labels));
    }
    return new Observations(values, factors);
  }

  @ParameterizedTest(name = "{0}, seed {1}")
  @CsvSource({"cell,3", "board,3", "cell,8", "board,8", "cellLot,5"})
  void putsUnitsInTheOrderOfTheirInfluence(String factor, long seed) {
    boolean pair = seed % 2 == 0;
    Observations study =
        Studies.rotation(new Studies.Shape(30, 30, 2, pair ? 12 : 5, pair, true), SDS, 0.1, seed);
    Changes changes = changes(study, factor);
    int own = study.factors().stream().map(f -> f.component().name()).toList().indexOf(factor);
    for (int k : new int[] {own, changes.firstOrder[0].length - 1}) {
      int column = k;
      double[] one = Arrays.stream(changes.firstOrder).mapToDouble(c -> c[column]).toArray();
      double[] other = Arrays.stream(changes.fitted).mapToDouble(c -> c[column]).toArray();
      assertThat(new SpearmansCorrelation().correlation(one, other))
          .as("component %s of %s, seed %s", k, factor, seed)
          .isGreaterThan(0.9);
    }
  }

  /** Rows with two readings each, so that what they say of one another goes with them. */
  @Test
  void oneStepWithoutCasksOrABatch() {
    Oracle oracle = Oracle.load("deletion");
    Observations study = Studies.read("lme4_pastes.csv", "strength", "batch;sample");
    List<String> casks =
        Studies.table("lme4_pastes.csv").stream().map(row -> row.getField("sample")).toList();
    CaseDeletion deletion = new CaseDeletion(Studies.fit(study));
    checkStep(oracle, "X1", deletion.without(rows(casks, "A:a")));
    checkStep(oracle, "X2", deletion.without(rows(casks, "D:a", "H:c")));
    checkStep(oracle, "X3", deletion.without(rows(casks, "E:a", "E:b", "E:c")));
    oracle.assertAllUsed();
  }

  private static List<Integer> rows(List<String> casks, String... gone) {
    List<String> all = List.of(gone);
    return IntStream.range(0, casks.size())
        .filter(i -> all.contains(casks.get(i)))
        .boxed()
        .toList();
  }

  private static void checkStep(Oracle oracle, String id, CaseDeletion.Change change) {
    oracle.check(id, "batch", change.variances()[0]);
    oracle.check(id, "cask", change.variances()[1]);
    oracle.check(id, "residual", change.variances()[2]);
    oracle.check(id, "mean", change.mean());
  }

  @Test
  void nothingLeftOutChangesNothing() {
    Observations study = Studies.rotation(new Studies.Shape(9, 8, 2, 3, false, false), SDS, 0.1, 1);
    ComponentsFit fit = Studies.fit(study);
    CaseDeletion.Change change = new CaseDeletion(fit).without(List.of());
    assertThat(change.variances()).containsOnly(0.0);
    assertThat(change.mean()).isZero();
  }

  @Test
  void refusesAnObservationThatIsNotThere() {
    ComponentsFit fit =
        Studies.fit(Studies.rotation(new Studies.Shape(9, 8, 2, 3, false, false), SDS, 0.1, 1));
    assertThatThrownBy(() -> new CaseDeletion(fit).without(List.of(100_000)))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessageContaining("100000");
  }
}
