package lotproof.claim.evidence;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.DoubleSummaryStatistics;
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
import lotproof.study.Characteristic;
import lotproof.study.ClaimRequest.LevelRequest;
import lotproof.study.Study;

/** The error curves that a calibration level is judged on, or why there are none. */
public sealed interface LevelCurves {
  /**
   * There are curves.
   *
   * @param judged what the figure rests on
   * @param atOneTemperature every run read with its own calibration; the same as {@code judged}
   *     unless a temperature correction is judged on a change between calibration and use
   */
  record Found(
      List<ErrorCurve> judged,
      List<ErrorCurve> atOneTemperature,
      Optional<TemperatureEffect> correction)
      implements LevelCurves {
    public Found {
      judged = List.copyOf(judged);
      atOneTemperature = List.copyOf(atOneTemperature);
    }

    /** Whether the curves went through a change of temperature between calibration and use. */
    public boolean changed() {
      return correction.map(effect -> effect.changeKelvin().isPresent()).orElse(false);
    }
  }

  /** There are none. */
  record None(Refusal why) implements LevelCurves {}

  /** The curves of a study's runs. */
  static LevelCurves of(Study study, List<ReducedRun> runs, LevelRequest request) {
    if (request.temperatureCorrection().isEmpty()) {
      List<ErrorCurve> curves = curves(study, runs, request.level(), Optional.empty());
      return new Found(curves, curves, Optional.empty());
    }
    List<ReducedRun> showing =
        runs.stream().filter(r -> r.value(Characteristic.SENSITIVITY).isPresent()).toList();
    Optional<ReducedRun> cold =
        showing.stream().filter(r -> TemperatureEffect.celsius(r.run()).isEmpty()).findFirst();
    if (cold.isPresent()) {
      return new None(new Refusal.NoTemperature(cold.get().run().name()));
    }
    double[] celsius =
        showing.stream()
            .mapToDouble(r -> TemperatureEffect.celsius(r.run()).orElseThrow())
            .toArray();
    DoubleSummaryStatistics seen = Arrays.stream(celsius).summaryStatistics();
    double range = celsius.length == 0 ? 0 : seen.getMax() - seen.getMin();
    if (!(range >= TemperatureEffect.SMALLEST_RANGE_KELVIN)) {
      return new None(
          new Refusal.SmallTemperatureRange(range, TemperatureEffect.SMALLEST_RANGE_KELVIN));
    }
    return TemperatureEffect.of(study, showing, celsius, request.temperatureCorrection().get())
        .map(effect -> corrected(study, runs, request.level(), effect))
        .orElseGet(() -> new None(new Refusal.Plain(Refusal.Cause.TEMPERATURE_OF_UNITS)));
  }

  /**
   * The curves of runs with a coefficient that is known already, such as those of a later lot with
   * the coefficient of the study. After a calibration they are those of kits that are calibrated at
   * one temperature and read at another: of the runs of one pair each is read with the calibration
   * of the next one (the last with that of the first), if their temperatures differ by 2 K or more.
   * What the mean coefficient leaves of each kit's own is in these curves, and so is what changed
   * from run to run.
   */
  static LevelCurves corrected(
      Study study, List<ReducedRun> runs, CalibrationLevel level, TemperatureEffect effect) {
    List<ErrorCurve> own = curves(study, runs, level, Optional.of(effect));
    if (!(level instanceof CalibrationLevel.Calibrated)) {
      return new Found(own, own, Optional.of(effect));
    }
    ErrorOfReading errors = errors(study, Optional.of(effect));
    Map<String, List<LoadRun>> byPair = new LinkedHashMap<>();
    for (ReducedRun run : planned(study, runs)) {
      byPair.computeIfAbsent(run.run().pair(), p -> new ArrayList<>()).add(run.run());
    }
    List<ErrorCurve> curves = new ArrayList<>();
    DoubleSummaryStatistics changes = new DoubleSummaryStatistics();
    for (List<LoadRun> ofPair : byPair.values()) {
      for (int i = 0; i < ofPair.size(); i++) {
        LoadRun calibration = ofPair.get((i + 1) % ofPair.size());
        OptionalDouble there = TemperatureEffect.celsius(calibration);
        OptionalDouble here = TemperatureEffect.celsius(ofPair.get(i));
        double change =
            here.isPresent() && there.isPresent()
                ? Math.abs(here.getAsDouble() - there.getAsDouble())
                : 0;
        Optional<ErrorCurve> curve =
            change >= TemperatureEffect.SMALLEST_RANGE_KELVIN
                ? errors.curve(ofPair.get(i), calibration, level)
                : Optional.empty();
        if (curve.isPresent()) {
          curves.add(curve.get());
          changes.accept(change);
        }
      }
    }
    return curves.size() < 2
        ? new None(new Refusal.Plain(Refusal.Cause.FEW_CHANGES_OF_TEMPERATURE))
        : new Found(
            curves, own, Optional.of(effect.afterChange(changes.getMin(), changes.getMax())));
  }

  /** Every run with its own calibration. */
  static List<ErrorCurve> curves(
      Study study,
      List<ReducedRun> runs,
      CalibrationLevel level,
      Optional<TemperatureEffect> correction) {
    ErrorOfReading errors = errors(study, correction);
    return planned(study, runs).stream().flatMap(run -> errors.curve(run, level).stream()).toList();
  }

  private static ErrorOfReading errors(Study study, Optional<TemperatureEffect> correction) {
    return correction
        .map(c -> new ErrorOfReading(study.kit(), c.perKelvin(), c.referenceCelsius()))
        .orElseGet(() -> new ErrorOfReading(study.kit()));
  }

  /** Runs with the study's loads. */
  private static List<ReducedRun> planned(Study study, List<ReducedRun> runs) {
    return runs.stream()
        .filter(run -> run.run().loadsKilograms().equals(study.design().loadsKilograms()))
        .toList();
  }
}
