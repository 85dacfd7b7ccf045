package lotproof.claim;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import lotproof.reduce.ErrorCurve;
import lotproof.study.CalibrationLevel;

/**
 * The claim at one calibration level.
 *
 * @param level what the buyer has done
 * @param outcome the figure, or why there is none
 * @param wanted verdict on the figure that someone would like to print, if the study names one
 * @param sentence the claim with its conditions, in words; without a figure the reason
 * @param curves error of reading of every run behind it
 */
public record LevelClaim(
    CalibrationLevel level,
    LevelOutcome outcome,
    Optional<Verdict> wanted,
    String sentence,
    List<ErrorCurve> curves) {

  /**
   * Verdict on a wanted figure.
   *
   * @param wantedGrams the wanted figure
   * @param supported whether the study supports it
   * @param marginGrams wanted figure minus the smallest supported one before rounding; absent
   *     without a figure
   */
  public record Verdict(double wantedGrams, boolean supported, OptionalDouble marginGrams) {}

  public LevelClaim {
    curves = List.copyOf(curves);
  }

  /** The figure, if there is one. */
  public Optional<LevelOutcome.Figure> figure() {
    return outcome instanceof LevelOutcome.Figure figure ? Optional.of(figure) : Optional.empty();
  }
}
