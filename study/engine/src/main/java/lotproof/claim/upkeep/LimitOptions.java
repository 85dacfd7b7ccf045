package lotproof.claim.upkeep;

import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;
import lotproof.reduce.Direction;
import lotproof.statistics.Checks;

/**
 * What production will test, and how well.
 *
 * @param figuresGrams the figure to protect by calibration level key; a level without one protects
 *     the wanted figure of the study, or failing that its safest figure
 * @param testLoadsKilograms loads that production puts on; empty for all loads of the study
 * @param falling whether production also reads on the way down
 * @param testerUncertaintyGrams standard uncertainty of one reading of the production tester
 *     without its masses; absent for the repeatability of the study's bench
 * @param changesTemperature whether production calibrates each item at one temperature and reads it
 *     at another, as the study did; matters where the figure holds for such a change
 * @param conformity probability with which any kit that just passes keeps the figure, in 0..1
 */
public record LimitOptions(
    Map<String, Double> figuresGrams,
    List<Double> testLoadsKilograms,
    boolean falling,
    OptionalDouble testerUncertaintyGrams,
    boolean changesTemperature,
    double conformity) {
  public LimitOptions {
    figuresGrams = Map.copyOf(figuresGrams);
    testLoadsKilograms = List.copyOf(testLoadsKilograms);
    figuresGrams.forEach((level, grams) -> Checks.positive(grams, "figure of " + level + " (g)"));
    testLoadsKilograms.forEach(load -> Checks.positive(load, "test load (kg)"));
    Checks.positive(testerUncertaintyGrams.orElse(1), "uncertainty of the tester (g)");
    Checks.fraction(conformity, "conformity");
  }

  /** All loads of the study, rising and falling, with a tester as good as the study's bench. */
  public static LimitOptions defaults(double conformity) {
    return new LimitOptions(Map.of(), List.of(), true, OptionalDouble.empty(), false, conformity);
  }

  /** Whether production reads at a load of the study. */
  boolean reads(double loadKilograms, Direction direction) {
    return testLoadsKilograms.isEmpty()
        || (testLoadsKilograms.contains(loadKilograms)
            && (falling || direction == Direction.RISING));
  }
}
