package lotproof.study;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import lotproof.statistics.Checks;

/**
 * What the study is asked to support, fixed before the data.
 *
 * @param content fraction of all kits that the figure must hold for, in 0..1
 * @param confidence probability that the statement is right, in 0..1
 * @param roundingGrams step to which figures are rounded outward, above 0
 * @param subject what the figure is for: a kit, a cell alone or a board alone
 * @param assumedLotRatio standard deviation between lots over that within lots, declared by the
 *     maker for kinds of unit of which only one lot was studied; assumed, not measured
 * @param levels the calibration levels, with the figure that someone would like to print
 */
public record ClaimRequest(
    double content,
    double confidence,
    double roundingGrams,
    ClaimForm form,
    Subject subject,
    OptionalDouble assumedLotRatio,
    List<LevelRequest> levels) {

  /**
   * One calibration level of the claim.
   *
   * @param wantedGrams the figure that someone would like to print, if any
   */
  public record LevelRequest(
      CalibrationLevel level,
      OptionalDouble wantedGrams,
      Optional<TemperatureCorrection> temperatureCorrection) {
    public LevelRequest {
      if (wantedGrams.isPresent()) {
        Checks.positive(wantedGrams.getAsDouble(), "wanted figure (g)");
      }
    }

    /** A level without temperature correction. */
    public LevelRequest(CalibrationLevel level, OptionalDouble wantedGrams) {
      this(level, wantedGrams, Optional.empty());
    }

    /** The same level with another wanted figure. */
    public LevelRequest wanting(double grams) {
      return new LevelRequest(level, OptionalDouble.of(grams), temperatureCorrection);
    }
  }

  public ClaimRequest {
    share(content, "content");
    share(confidence, "confidence");
    Checks.positive(roundingGrams, "rounding (g)");
    if (assumedLotRatio.isPresent()) {
      Checks.positive(assumedLotRatio.getAsDouble(), "assumed lot ratio");
    }
    levels = List.copyOf(levels);
  }

  /**
   * Checks a content or a confidence: 0.5 to 0.9999. Below, more kits would break a figure than
   * keep it; above, neither the simulated quantiles nor a study of hundreds of kits carry it.
   */
  public static double share(double value, String name) {
    if (value >= 0.5 && value <= 0.9999) {
      return value;
    }
    throw new IllegalArgumentException(
        name + " must lie between 0.5 and 0.9999 (0.95 means 95 %), was " + value);
  }

  /** The same request with other levels. */
  public ClaimRequest withLevels(List<LevelRequest> others) {
    return new ClaimRequest(
        content, confidence, roundingGrams, form, subject, assumedLotRatio, others);
  }

  /** The same request with another content and confidence. */
  public ClaimRequest withShares(double otherContent, double otherConfidence) {
    return new ClaimRequest(
        otherContent, otherConfidence, roundingGrams, form, subject, assumedLotRatio, levels);
  }

  /** The same request for something else. */
  public ClaimRequest about(Subject other) {
    return new ClaimRequest(
        content, confidence, roundingGrams, form, other, assumedLotRatio, levels);
  }

  /** What the figure is for. */
  public enum Subject implements Keyed {
    KIT,
    CELL,
    BOARD;

    /** Several of them: kits, cells or boards. */
    public String plural() {
      return key() + "s";
    }
  }

  /**
   * The firmware corrects the indication for temperature with one mean coefficient for all kits,
   * estimated from the study.
   *
   * @param sensorErrorCelsius limit of error of the thermometer in the kit, 0 or above
   */
  public record TemperatureCorrection(double sensorErrorCelsius) {
    public TemperatureCorrection {
      Checks.notNegative(sensorErrorCelsius, "error of the thermometer (°C)");
    }
  }
}
