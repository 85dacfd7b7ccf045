package lotproof.claim.evidence;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import lotproof.reduce.ErrorCurve;
import lotproof.reduce.ErrorOfReading;
import lotproof.reduce.LoadRun;
import lotproof.reduce.ReducedRun;
import lotproof.study.CalibrationLevel;
import lotproof.study.Study;

/**
 * Errors of kits that are calibrated at one temperature and read at another, with a temperature
 * correction: of the runs of one pair each is read with the calibration of the next one (the last
 * with that of the first), if their temperatures differ by 2 K or more. What the mean coefficient
 * leaves of each kit's own is in these curves, and so is what changed from run to run.
 *
 * @param curves one for each run that has such a partner
 * @param smallestKelvin smallest change of temperature among them; 0 where there are none
 * @param largestKelvin largest change
 */
record ChangedTemperature(List<ErrorCurve> curves, double smallestKelvin, double largestKelvin) {

  static ChangedTemperature of(
      Study study,
      List<ReducedRun> runs,
      TemperatureEffect.Estimated effect,
      CalibrationLevel level) {
    ErrorOfReading errors =
        new ErrorOfReading(study.kit(), effect.perKelvin(), effect.referenceCelsius());
    Map<String, List<LoadRun>> byPair = new LinkedHashMap<>();
    runs.forEach(
        run -> byPair.computeIfAbsent(run.run().pair(), p -> new ArrayList<>()).add(run.run()));
    List<ErrorCurve> curves = new ArrayList<>();
    double smallest = Double.POSITIVE_INFINITY;
    double largest = 0;
    for (List<LoadRun> ofPair : byPair.values()) {
      for (int i = 0; i < ofPair.size(); i++) {
        LoadRun calibration = ofPair.get((i + 1) % ofPair.size());
        double change = change(ofPair.get(i), calibration);
        Optional<ErrorCurve> curve =
            change >= TemperatureEffect.SMALLEST_RANGE_KELVIN
                ? errors.curve(ofPair.get(i), calibration, level)
                : Optional.empty();
        if (curve.isPresent()) {
          curves.add(curve.get());
          smallest = Math.min(smallest, change);
          largest = Math.max(largest, change);
        }
      }
    }
    return new ChangedTemperature(curves, curves.isEmpty() ? 0 : smallest, largest);
  }

  /** In kelvin; 0 where one of the runs has no temperature. */
  private static double change(LoadRun one, LoadRun other) {
    OptionalDouble first = TemperatureEffect.celsius(one);
    OptionalDouble second = TemperatureEffect.celsius(other);
    return first.isPresent() && second.isPresent()
        ? Math.abs(first.getAsDouble() - second.getAsDouble())
        : 0;
  }
}
