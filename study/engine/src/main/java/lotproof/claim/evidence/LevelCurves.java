package lotproof.claim.evidence;

import java.util.List;
import java.util.Optional;
import lotproof.reduce.ErrorCurve;
import lotproof.reduce.ErrorOfReading;
import lotproof.reduce.ReducedRun;
import lotproof.study.CalibrationLevel;
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
   * @param correction the temperature correction, where the level has one
   */
  record Found(
      List<ErrorCurve> judged,
      List<ErrorCurve> atOneTemperature,
      Optional<TemperatureEffect.Estimated> correction)
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
    TemperatureEffect effect =
        TemperatureEffect.of(study, runs, request.temperatureCorrection().get());
    return effect instanceof TemperatureEffect.Estimated estimated
        ? corrected(study, runs, request.level(), estimated)
        : new None(((TemperatureEffect.NotEstimable) effect).why());
  }

  /**
   * The curves of runs with a coefficient that is known already, such as those of a later lot with
   * the coefficient of the study.
   */
  static LevelCurves corrected(
      Study study,
      List<ReducedRun> runs,
      CalibrationLevel level,
      TemperatureEffect.Estimated effect) {
    List<ErrorCurve> own = curves(study, runs, level, Optional.of(effect));
    if (!(level instanceof CalibrationLevel.Calibrated)) {
      return new Found(own, own, Optional.of(effect));
    }
    ChangedTemperature changed = ChangedTemperature.of(study, planned(study, runs), effect, level);
    return changed.curves().size() < 2
        ? new None(new Refusal.Plain(Refusal.Cause.FEW_CHANGES_OF_TEMPERATURE))
        : new Found(
            changed.curves(),
            own,
            Optional.of(effect.afterChange(changed.smallestKelvin(), changed.largestKelvin())));
  }

  /** Every run with its own calibration. */
  static List<ErrorCurve> curves(
      Study study,
      List<ReducedRun> runs,
      CalibrationLevel level,
      Optional<TemperatureEffect.Estimated> correction) {
    ErrorOfReading errors =
        correction
            .map(c -> new ErrorOfReading(study.kit(), c.perKelvin(), c.referenceCelsius()))
            .orElseGet(() -> new ErrorOfReading(study.kit()));
    return planned(study, runs).stream()
        .map(run -> errors.curve(run, level))
        .flatMap(Optional::stream)
        .toList();
  }

  /** Runs with the study's loads. */
  private static List<ReducedRun> planned(Study study, List<ReducedRun> runs) {
    return runs.stream()
        .filter(run -> run.run().loadsKilograms().equals(study.design().loadsKilograms()))
        .toList();
  }
}
