package lotproof.claim.upkeep;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import lotproof.claim.LevelClaim;
import lotproof.claim.LevelOutcome.Figure;
import lotproof.claim.StudyResult;
import lotproof.study.CalibrationLevel;
import lotproof.study.ClaimForm;
import lotproof.study.ClaimSubject;
import lotproof.work.SideBySide;

/**
 * Production tests that protect the figures of a study.
 *
 * @param levels one for each calibration level with a figure
 * @param cautions what the limits are not
 */
public record ProductionLimits(List<LevelLimits> levels, List<String> cautions) {

  /**
   * The tests of one level.
   *
   * @param level what the buyer has done
   * @param figureGrams the figure that they protect
   * @param typicalGrams half of the tested kits have a largest error up to this (the median kit)
   * @param characterisedGrams the safest figure of the study, without any production test
   * @param pair the test of finished kits
   * @param jig the tests of cells and boards alone
   */
  public record LevelLimits(
      CalibrationLevel level,
      double figureGrams,
      double typicalGrams,
      double characterisedGrams,
      PairTest pair,
      JigTest jig) {}

  public ProductionLimits {
    levels = List.copyOf(levels);
    cautions = List.copyOf(cautions);
  }

  /** Limits from the runs that count after the decisions. */
  public static ProductionLimits of(StudyResult result, LimitOptions options) {
    List<LevelLimits> levels =
        SideBySide.map(
                result.asDecided().claims(),
                claim -> claim.figure().map(figure -> of(result, options, claim, figure)))
            .stream()
            .flatMap(Optional::stream)
            .toList();
    return new ProductionLimits(
        levels,
        List.of(
            "Production limits protect a figure of reading. They are no safety limits and say nothing about strength, overload or structure.",
            "They make no instrument fit for trade: weighing that sets a price needs type approval and verification under the local law.",
            "They hold for the tester, masses and loads named here; a change of the tester needs its uncertainty anew."));
  }

  private static LevelLimits of(
      StudyResult result, LimitOptions options, LevelClaim claim, Figure figure) {
    TestedErrors errors = TestedErrors.of(claim.curves(), figure.points());
    double protectedGrams =
        Optional.ofNullable(options.figuresGrams().get(claim.level().key()))
            .or(() -> claim.wanted().map(LevelClaim.Verdict::wantedGrams))
            .orElse(figure.safestGrams());
    double masses = figure.guardGrams();
    double confidence = result.study().claim().confidence();
    double[] largest =
        claim.curves().stream().mapToDouble(c -> c.largestGrams()).sorted().toArray();
    boolean plain =
        claim.form() instanceof ClaimForm.Symmetric
            && result.study().claim().subject() == ClaimSubject.KIT;
    boolean changed = figure.temperatureChangeKelvin().isPresent();
    if (!plain || changed) {
      String reason =
          changed
              ? "The figure holds for a change of temperature between calibration and use, which a test at one temperature does not show."
              : "Production limits are computed for figures of plus or minus grams of a kit; this claim has another form or is for a cell or board alone.";
      return new LevelLimits(
          claim.level(),
          protectedGrams,
          median(largest).orElse(0),
          figure.safestGrams(),
          new PairTest.CannotProtect(reason),
          new JigTest.CannotProtect(reason));
    }
    return new LevelLimits(
        claim.level(),
        protectedGrams,
        median(largest).orElse(0),
        figure.safestGrams(),
        PairTests.of(claim.level(), errors, options, confidence, protectedGrams, masses),
        JigTests.of(result.study(), claim.level(), errors, options, protectedGrams, masses));
  }

  private static OptionalDouble median(double[] sorted) {
    int n = sorted.length;
    return n == 0
        ? OptionalDouble.empty()
        : OptionalDouble.of(0.5 * (sorted[(n - 1) / 2] + sorted[n / 2]));
  }
}
