package lotproof.reduce;

import java.util.Collections;
import java.util.EnumMap;
import java.util.Map;
import java.util.OptionalDouble;
import lotproof.study.Characteristic;

/**
 * A load run with the characteristics that were computed from it.
 *
 * @param run the run
 * @param values value by characteristic, in the characteristic's unit; absent when the run does not
 *     show it
 * @param slopeCountsPerKilogram slope of the reference line, above 0
 */
public record ReducedRun(
    LoadRun run, Map<Characteristic, Double> values, double slopeCountsPerKilogram) {
  public ReducedRun {
    EnumMap<Characteristic, Double> ordered = new EnumMap<>(Characteristic.class);
    ordered.putAll(values);
    values = Collections.unmodifiableMap(ordered);
  }

  /** Value of one characteristic, if the run shows it. */
  public OptionalDouble value(Characteristic characteristic) {
    Double value = values.get(characteristic);
    return value == null ? OptionalDouble.empty() : OptionalDouble.of(value);
  }
}
