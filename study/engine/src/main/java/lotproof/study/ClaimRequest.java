package lotproof.study;

import java.util.List;
import java.util.OptionalDouble;

/**
 * What the study is asked to support, fixed before the data.
 *
 * @param content fraction of all kits that the figure must hold for, in 0..1
 * @param confidence probability that the statement is right, in 0..1
 * @param roundingGrams step to which figures are rounded outward, above 0
 * @param levels the calibration levels, with the figure that someone would like to print
 */
public record ClaimRequest(
    double content, double confidence, double roundingGrams, List<LevelRequest> levels) {

  /**
   * One calibration level of the claim.
   *
   * @param level what the buyer has done
   * @param wantedGrams the figure that someone would like to print, if any
   */
  public record LevelRequest(CalibrationLevel level, OptionalDouble wantedGrams) {
    public LevelRequest {
      if (wantedGrams.isPresent()) {
        Require.positive(wantedGrams.getAsDouble(), "wanted figure (g)");
      }
    }
  }

  public ClaimRequest {
    Require.fraction(content, "content");
    Require.fraction(confidence, "confidence");
    Require.positive(roundingGrams, "rounding (g)");
    levels = List.copyOf(levels);
  }
}
