package lotproof.statistics.components;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import de.siegmar.fastcsv.reader.NamedCsvRecord;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.stream.Stream;
import lotproof.statistics.Interval;
import org.junit.jupiter.api.DynamicTest;
import org.junit.jupiter.api.TestFactory;

/** Fits against published and independently computed values; sources stand in the oracle file. */
class FitOracleTest {
  private final Map<String, ComponentsFit> fits = new HashMap<>();
  private final Map<String, List<Interval>> profiles = new HashMap<>();

  @TestFactory
  Stream<DynamicTest> agreesWithOracle() {
    List<NamedCsvRecord> rows = Studies.table("fit-oracle.csv");
    assertThat(rows).hasSize(365);
    List<DynamicTest> tests = new ArrayList<>();
    for (NamedCsvRecord row : rows) {
      String name =
          row.getField("case") + " " + row.getField("criterion") + " " + row.getField("quantity");
      tests.add(DynamicTest.dynamicTest(name, () -> check(row)));
    }
    return tests.stream();
  }

  private void check(NamedCsvRecord row) {
    String key =
        row.getField("data") + '/' + row.getField("factors") + '/' + row.getField("criterion");
    ComponentsFit fit =
        fits.computeIfAbsent(
            key,
            k ->
                Studies.fit(
                    Studies.read(
                        row.getField("data"), row.getField("value"), row.getField("factors"))));
    double expected = Double.parseDouble(row.getField("expected"));
    double tolerance = Double.parseDouble(row.getField("tolerance"));
    double allowed =
        row.getField("kind").equals("rel") ? tolerance * Math.abs(expected) : tolerance;
    assertThat(value(fit, key, row.getField("quantity")))
        .as(row.getField("source"))
        .isCloseTo(expected, within(allowed));
  }

  private double value(ComponentsFit fit, String key, String quantity) {
    String[] words = quantity.split(" ", -1);
    String last = words[words.length - 1];
    int index = fit.components().indexOf(new Component(last));
    if (quantity.startsWith("profile")) {
      Interval interval =
          profiles
              .computeIfAbsent(key, k -> ProfileIntervals.ofStandardDeviations(fit, 0.95))
              .get(index);
      return words[1].equals("lower") ? interval.lower() : interval.upper();
    }
    return switch (words[0]) {
      case "sd" -> Math.sqrt(fit.variances()[index]);
      case "variance" -> fit.variances()[index];
      case "minus2logLik" -> fit.minusTwoLogLikelihood();
      case "mean" ->
          words.length == 1
              ? fit.mean()
              : words.length == 2 ? fit.meanStandardError() : fit.meanVarianceGradient()[index];
      case "unconstrained" -> fit.unconstrainedVariances()[index];
      case "limit" -> limit(fit, words);
      default -> pseudo(fit, words, index);
    };
  }

  private static double pseudo(ComponentsFit fit, String[] words, int index) {
    FutureUnit.PseudoMeanSquares squares = new FutureUnit.PseudoMeanSquares(fit, 0.95);
    int component = fit.components().indexOf(new Component(words[1]));
    int position = Arrays.stream(squares.order).boxed().toList().indexOf(component);
    return switch (words[0]) {
      case "phi" -> squares.phi[position];
      case "nu" -> squares.nu[position];
      case "T" -> squares.t[position][index];
      default -> throw new AssertionError("unknown quantity " + words[0]);
    };
  }

  private static double limit(ComponentsFit fit, String[] words) {
    Set<Component> excluded = words[2].equals("none") ? Set.of() : Set.of(new Component(words[2]));
    FutureUnitLimits limits =
        FutureUnitLimits.of(
            fit, excluded, Double.parseDouble(words[3]), Double.parseDouble(words[4]));
    return switch (words[1]) {
      case "totalSd" -> limits.totalSd();
      case "totalSdUpper" -> limits.totalSdUpper();
      case "meanSe" -> limits.meanStandardError();
      case "meanDf" -> limits.meanDegreesOfFreedom();
      case "effectiveDf" -> limits.effectiveDegreesOfFreedom();
      case "upper" -> limits.upper();
      case "lower" -> limits.lower();
      case "halfWidth" -> limits.twoSidedHalfWidth();
      case "symmetric" -> limits.symmetricHalfWidth();
      default -> throw new AssertionError("unknown limit " + words[1]);
    };
  }
}
