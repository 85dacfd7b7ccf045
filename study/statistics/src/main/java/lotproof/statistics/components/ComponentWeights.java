package lotproof.statistics.components;

import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;

/**
 * How components of a fit enter a future unit: the variance of a future unit is the sum of weight
 * times variance over the components.
 *
 * @param unit weight by component; a component that is not named has weight 1, an excluded one
 *     weight 0, one of which only the share f of the standard deviation is left weight f^2
 * @param meanExtra share of each component's variance by which the mean is uncertain beyond what
 *     the study shows; a component that is not named has 0. Serves a declared spread of lots of
 *     which one was seen: the lot's own mean is off by one draw
 */
public record ComponentWeights(Map<String, Double> unit, Map<String, Double> meanExtra) {
  /** Every component counts as it is. */
  public static final ComponentWeights ALL = new ComponentWeights(Map.of(), Map.of());

  public ComponentWeights {
    unit = Map.copyOf(unit);
    meanExtra = Map.copyOf(meanExtra);
    check(unit, "weight of component ");
    check(meanExtra, "extra weight of component ");
  }

  private static void check(Map<String, Double> weights, String what) {
    for (Map.Entry<String, Double> entry : weights.entrySet()) {
      if (!(entry.getValue() >= 0 && entry.getValue() < Double.POSITIVE_INFINITY)) {
        throw new IllegalArgumentException(
            what + entry.getKey() + " must be 0 or above and finite, was " + entry.getValue());
      }
    }
  }

  /** All but some components. */
  public static ComponentWeights without(Set<String> excluded) {
    return ALL.scaled(excluded, 0);
  }

  /** These weights, those of some components times a factor. */
  public ComponentWeights scaled(Set<String> components, double factor) {
    Map<String, Double> changed = new HashMap<>(unit);
    components.forEach(name -> changed.put(name, unit.getOrDefault(name, 1.0) * factor));
    return new ComponentWeights(changed, meanExtra);
  }

  /** Weights in the order of some components, of which all that have a weight must be there. */
  double[] ofUnit(List<String> names) {
    return of(unit, names, 1);
  }

  double[] ofMean(List<String> names) {
    return of(meanExtra, names, 0);
  }

  private static double[] of(Map<String, Double> weights, List<String> names, double other) {
    for (String name : weights.keySet()) {
      if (!names.contains(name)) {
        throw new IllegalArgumentException(
            "no component is called \"" + name + "\"; there are " + names);
      }
    }
    return names.stream().mapToDouble(name -> weights.getOrDefault(name, other)).toArray();
  }
}
