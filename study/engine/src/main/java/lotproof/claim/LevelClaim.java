package lotproof.claim;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import lotproof.claim.premise.Assumption;
import lotproof.claim.premise.PlanCoverage;
import lotproof.reduce.ErrorCurve;
import lotproof.study.CalibrationLevel;
import lotproof.study.ClaimForm;
import lotproof.study.ClaimRequest;

/**
 * The claim at one calibration level.
 *
 * @param correction how the firmware corrects for temperature, if it does
 * @param detail what stands behind and beside the figure; absent without a figure, and in the
 *     comparison without exclusions
 * @param wanted verdict on the figure that someone would like to print, if the study names one
 */
public record LevelClaim(
    CalibrationLevel level,
    Optional<ClaimRequest.TemperatureCorrection> correction,
    ClaimForm form,
    LevelOutcome outcome,
    Optional<FigureDetail> detail,
    Optional<Verdict> wanted,
    PlanCoverage coverage,
    List<Assumption> assumptions,
    List<ErrorCurve> curves) {

  /**
   * Verdict on a wanted figure.
   *
   * @param marginGrams wanted figure minus the smallest supported one before rounding; absent
   *     without a figure
   * @param confidence how sure the model is that the asked content lies within the wanted figure,
   *     in 0..1; absent without a figure, and in the comparison without exclusions
   * @param remedies what would change the answer; empty when the answer is yes
   */
  public record Verdict(
      double wantedGrams,
      boolean supported,
      OptionalDouble marginGrams,
      OptionalDouble confidence,
      List<Remedy> remedies) {
    public Verdict {
      remedies = List.copyOf(remedies);
    }
  }

  public LevelClaim {
    assumptions = List.copyOf(assumptions);
    curves = List.copyOf(curves);
  }

  /** Whether it is for kits whose boards were matched to their cells. */
  public boolean isMatched() {
    return assumptions.stream().anyMatch(Assumption.MatchedKits.class::isInstance);
  }

  /** The level with its masses, as tables and the history name it. */
  public String label() {
    return level.label() + (correction.isPresent() ? ", corrected" : "");
  }

  /** What the buyer has done and what the firmware does, for a sentence. */
  public String description() {
    return level.description() + (correction.isPresent() ? ", corrected for temperature" : "");
  }

  /** The figure, if there is one. */
  public Optional<LevelOutcome.Figure> figure() {
    return outcome instanceof LevelOutcome.Figure figure ? Optional.of(figure) : Optional.empty();
  }

  /** The printable figure, if there is one. */
  public OptionalDouble printableGrams() {
    return outcome instanceof LevelOutcome.Figure figure
        ? OptionalDouble.of(figure.printableGrams())
        : OptionalDouble.empty();
  }

  /** The same claim without the curves of its runs, which are long. */
  public LevelClaim withoutCurves() {
    return new LevelClaim(
        level, correction, form, outcome, detail, wanted, coverage, assumptions, List.of());
  }
}
