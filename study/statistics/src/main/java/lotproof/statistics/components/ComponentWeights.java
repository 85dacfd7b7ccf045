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
public record ComponentWeights(Map<Component, Double> unit, Map<Component, Double> meanExtra) {
  /** Every component counts as it is. */
  public static final ComponentWeights ALL = new ComponentWeights(Map.of(), Map.of());

  public ComponentWeights {
    unit = Map.copyOf(unit);
    meanExtra = Map.copyOf(meanExtra);
    check(unit, "weight of component ");
    check(meanExtra, "extra weight of component ");
  }

  private static void check(Map<Component, Double> weights, String what) {
    for (Map.Entry<Component, Double> entry : weights.entrySet()) {
      if (!(entry.getValue() >= 0 && entry.getValue() < Double.POSITIVE_INFINITY)) {
        throw new IllegalArgumentException(
            what + entry.getKey() + " must be 0 or above and finite, was " + entry.getValue());
      }
    }
  }

  /** All but some components. */
  public static ComponentWeights without(Set<Component> excluded) {
    return ALL.scaled(excluded, 0);
  }

  /** These weights, those of some components times a factor. */
  public ComponentWeights scaled(Set<Component> components, double factor) {
    Map<Component, Double> changed = new HashMap<>(unit);
    components.forEach(name -> changed.put(name, unit.getOrDefault(name, 1.0) * factor));
    return new ComponentWeights(changed, meanExtra);
  }

  /** Weights in the order of some components, of which all that have a weight must be there. */
  double[] ofUnit(List<Component> components) {
    return of(unit, components, 1);
  }

  double[] ofMean(List<Component> components) {
    return of(meanExtra, components, 0);
  }

  private static double[] of(
      Map<Component, Double> weights, List<Component> components, double other) {
    for (Component component : weights.keySet()) {
      if (!components.contains(component)) {
        throw new IllegalArgumentException(
            "no component is called \"" + component + "\"; there are " + components);
      }
    }
    return components.stream()
        .mapToDouble(component -> weights.getOrDefault(component, other))
        .toArray();
  }
}
