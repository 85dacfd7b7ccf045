package lotproof.claim.upkeep;

import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;

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
    for (Map.Entry<String, Double> figure : figuresGrams.entrySet()) {
      if (!(figure.getValue() > 0 && Double.isFinite(figure.getValue()))) {
        throw new IllegalArgumentException(
            "figure of " + figure.getKey() + " must be above 0 g, was " + figure.getValue());
      }
    }
    for (double load : testLoadsKilograms) {
      if (!(load > 0 && Double.isFinite(load))) {
        throw new IllegalArgumentException("a test load must be above 0 kg, was " + load);
      }
    }
    double u = testerUncertaintyGrams.orElse(1);
    if (!(u > 0 && Double.isFinite(u))) {
      throw new IllegalArgumentException("uncertainty of the tester must be above 0 g, was " + u);
    }
    if (!(conformity > 0 && conformity < 1)) {
      throw new IllegalArgumentException("conformity must lie in 0..1, was " + conformity);
    }
  }

  /** All loads of the study, rising and falling, with a tester as good as the study's bench. */
  public static LimitOptions defaults(double conformity) {
    return new LimitOptions(Map.of(), List.of(), true, OptionalDouble.empty(), false, conformity);
  }
}
