package lotproof.spread;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import lotproof.statistics.homogeneity.Bartlett;
import lotproof.statistics.homogeneity.BrownForsythe;
import lotproof.statistics.outliers.GeneralizedEsd;
import lotproof.statistics.outliers.Grubbs;
import lotproof.statistics.outliers.Grubbs.Side;
import lotproof.statistics.outliers.ModifiedZ;
import lotproof.statistics.shape.TwoGroups;

/**
 * Checks on the units of one kind: units far out, two kinds of unit in one heap, lots that scatter
 * unequally.
 *
 * @param word what the units are called
 * @param names serial of each unit
 * @param effects how far each unit lies from the mean, partners taken out as far as known, each in
 *     its own standard deviation where units were measured unequally often
 */
@SuppressWarnings("ArrayRecordComponent") // a bundle inside this package
record UnitChecks(String word, List<String> names, double[] effects) {
  private static final int FEWEST_UNITS = 6;
  private static final int FEWEST_FOR_TWO_GROUPS = 10;

  /** The test of several extremes keeps its level from about here on (Rosner 1983). */
  private static final int FEWEST_FOR_SEVERAL = 15;

  private static final int MOST_EXTREMES = 10;
  private static final int FEWEST_IN_LOT = 3;

  private String about() {
    return names.size() + " " + word + "s";
  }

  List<DataCheck> farOut() {
    if (effects.length < FEWEST_UNITS || Arrays.stream(effects).distinct().count() < 3) {
      return List.of(
          new DataCheck.NotDone(
              "grubbs",
              "One value far out",
              about(),
              "Fewer than " + FEWEST_UNITS + " differing " + word + "s say nothing on this."));
    }
    List<DataCheck> checks = new ArrayList<>();
    Grubbs.test(effects, Side.EITHER, DataCheck.NOTABLE_LEVEL)
        .map(this::one)
        .ifPresent(checks::add);
    if (effects.length >= FEWEST_FOR_SEVERAL) {
      checks.add(several());
    }
    checks.add(robust());
    if (effects.length >= FEWEST_FOR_TWO_GROUPS) {
      TwoGroups.of(effects).map(this::heaps).ifPresent(checks::add);
    }
    return checks;
  }

  private DataCheck one(Grubbs test) {
    return new DataCheck.Done(
        "grubbs",
        "One value far out",
        about(),
        List.of(names.get(test.index())),
        test.statistic(),
        OptionalDouble.of(test.criticalValue()),
        OptionalDouble.of(test.pValue()),
        test.extreme(),
        test.extreme()
            ? "This " + word + " lies farther out than chance explains; look for a cause."
            : "The " + word + " farthest out is no farther than chance explains.");
  }

  private DataCheck several() {
    int most = Math.min(MOST_EXTREMES, effects.length / 4);
    GeneralizedEsd test = GeneralizedEsd.test(effects, most, DataCheck.NOTABLE_LEVEL);
    List<String> out = test.extremes().stream().map(step -> names.get(step.index())).toList();
    return new DataCheck.Done(
        "generalized-esd",
        "Several values far out",
        about() + ", up to " + most,
        out,
        test.extremeCount(),
        OptionalDouble.empty(),
        OptionalDouble.empty(),
        !out.isEmpty(),
        out.isEmpty()
            ? "No " + word + " lies farther out than chance explains."
            : "These " + word + "s lie farther out than chance explains; look for a cause.");
  }

  private DataCheck robust() {
    if (!(ModifiedZ.of(effects) instanceof ModifiedZ.Scores scores)) {
      return new DataCheck.NotDone(
          "modified-z",
          "Far from the middle half",
          about(),
          "More than half of the " + word + "s are equal, so there is no scale to judge by.");
    }
    List<String> out =
        scores.beyond(ModifiedZ.CUSTOMARY_THRESHOLD).stream().map(names::get).toList();
    double largest = scores.scores().stream().mapToDouble(Math::abs).max().orElse(0);
    return new DataCheck.Done(
        "modified-z",
        "Far from the middle half",
        about(),
        out,
        largest,
        OptionalDouble.of(ModifiedZ.CUSTOMARY_THRESHOLD),
        OptionalDouble.empty(),
        !out.isEmpty(),
        out.isEmpty()
            ? "No " + word + " lies far from the middle half."
            : "These " + word + "s are worth a look (a rule of thumb, not a test).");
  }

  private DataCheck heaps(TwoGroups test) {
    boolean notable = test.pValue() < DataCheck.NOTABLE_LEVEL;
    return new DataCheck.Done(
        "two-heaps",
        "Two kinds in one heap",
        about(),
        List.of(),
        test.share(),
        OptionalDouble.empty(),
        OptionalDouble.of(test.pValue()),
        notable,
        notable
            ? "The "
                + word
                + "s form two heaps or a flat middle; look at lots, suppliers and dates."
            : "The " + word + "s form one heap.");
  }

  /**
   * Whether lots scatter alike.
   *
   * @param lotWord what the lots are called
   * @param lotOf lot of each unit, in the order of the units
   */
  List<DataCheck> lots(String lotWord, List<String> lotOf) {
    Map<String, List<Double>> byLot = new LinkedHashMap<>();
    for (int i = 0; i < effects.length; i++) {
      byLot.computeIfAbsent(lotOf.get(i), l -> new ArrayList<>()).add(effects[i]);
    }
    List<double[]> groups =
        byLot.values().stream()
            .filter(lot -> lot.size() >= FEWEST_IN_LOT)
            .map(lot -> lot.stream().mapToDouble(v -> v).toArray())
            .toList();
    if (byLot.size() < 2) {
      return List.of();
    }
    String about = groups.size() + " " + lotWord + "s";
    if (groups.size() < 2) {
      return List.of(
          new DataCheck.NotDone(
              "brown-forsythe",
              "Lots scatter unequally",
              about,
              "Two lots of " + FEWEST_IN_LOT + " or more " + word + "s are needed."));
    }
    List<DataCheck> checks = new ArrayList<>();
    boolean varied = groups.stream().allMatch(g -> Arrays.stream(g).distinct().count() > 1);
    Optional<Bartlett> bartlett = varied ? Bartlett.test(groups) : Optional.empty();
    bartlett.ifPresent(
        test ->
            checks.add(
                unequal(
                    "bartlett", about, test.statistic(), test.pValue(), ", if values are normal")));
    BrownForsythe.test(groups)
        .ifPresent(
            test ->
                checks.add(unequal("brown-forsythe", about, test.statistic(), test.pValue(), "")));
    return checks;
  }

  private static DataCheck unequal(
      String key, String about, double statistic, double pValue, String condition) {
    boolean notable = pValue < DataCheck.NOTABLE_LEVEL;
    return new DataCheck.Done(
        key,
        "Lots scatter unequally",
        about,
        List.of(),
        statistic,
        OptionalDouble.empty(),
        OptionalDouble.of(pValue),
        notable,
        (notable
                ? "Some lots scatter more than others; one spread for all describes none of them"
                : "Lots scatter alike, as far as these units show")
            + condition
            + ".");
  }
}
