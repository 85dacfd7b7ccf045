package lotproof.claim.upkeep;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import lotproof.claim.FigureDetail;
import lotproof.claim.LevelClaim;
import lotproof.claim.LevelOutcome.Figure;
import lotproof.claim.StudyResult;
import lotproof.claim.evidence.ErrorsInClaimForm;
import lotproof.claim.evidence.LevelCurves;
import lotproof.claim.premise.SubjectRuns;
import lotproof.statistics.summary.Summary;
import lotproof.study.CalibrationLevel;
import lotproof.study.ClaimForm;
import lotproof.study.ClaimRequest;
import lotproof.study.Study;
import lotproof.work.Parallel;

/**
 * Production tests that protect the figures of a study.
 *
 * @param matched whether the claim is for kits whose boards were matched to their cells
 * @param levels one for each calibration level with a figure
 */
public record ProductionLimits(
    ClaimRequest.Subject subject,
    boolean matched,
    ClaimForm form,
    LimitOptions options,
    List<LevelLimits> levels) {

  /**
   * The tests of one level.
   *
   * @param correction how the firmware corrects for temperature, if it does
   * @param changeKelvin change of temperature between calibration and use that the figure holds
   *     for; absent where there is none
   * @param typicalGrams half of the tested kits have a largest error up to this (the median kit)
   * @param characterisedGrams the printable figure of the study, without any production test
   * @param repeatability what the study knows of how well such a test repeats
   */
  public record LevelLimits(
      CalibrationLevel level,
      Optional<ClaimRequest.TemperatureCorrection> correction,
      OptionalDouble changeKelvin,
      double figureGrams,
      double typicalGrams,
      double characterisedGrams,
      Repeatability repeatability,
      ProductionTest finished,
      ProductionTest jig) {

    /** Whether some test protects the figure. */
    public boolean isProtected() {
      return finished instanceof ProductionTest.Finished
          || (finished instanceof ProductionTest.NotNeeded && jig instanceof ProductionTest.OnJig);
    }
  }

  public ProductionLimits {
    levels = List.copyOf(levels);
  }

  /**
   * Limits of a plan that tests all loads of the study, with a tester as good as its bench and the
   * claim's content as the probability that a kit which just passes keeps the figure.
   */
  public static ProductionLimits ofAllLoads(StudyResult result) {
    return of(result, LimitOptions.defaults(result.study().claim().content()));
  }

  /** Limits from the runs that count after the decisions. */
  public static ProductionLimits of(StudyResult result, LimitOptions options) {
    List<LevelLimits> levels =
        Parallel.map(
                result.asDecided().claims(),
                claim -> claim.figure().map(figure -> of(result, options, claim, figure)))
            .stream()
            .flatMap(Optional::stream)
            .toList();
    ClaimRequest claim = result.study().claim();
    boolean matched = result.asDecided().claims().stream().anyMatch(LevelClaim::isMatched);
    return new ProductionLimits(claim.subject(), matched, claim.form(), options, levels);
  }

  private static LevelLimits of(
      StudyResult result, LimitOptions options, LevelClaim claim, Figure figure) {
    Study study = result.study();
    ErrorsInClaimForm own = ErrorsInClaimForm.of(claim.curves(), claim.form()).ofSubject(study);
    boolean atOneTemperature =
        figure.guards().changeKelvin().isPresent() && !options.changesTemperature();
    ProductionReadings errors =
        ProductionReadings.of(
            own,
            figure.points(),
            atOneTemperature && result.curves(claim) instanceof LevelCurves.Found found
                ? Optional.of(found.atOneTemperature())
                : Optional.empty());
    double protectedGrams =
        Optional.ofNullable(options.figuresGrams().get(claim.level().key()))
            .or(() -> claim.wanted().map(LevelClaim.Verdict::wantedGrams))
            .orElse(figure.printableGrams());
    PlannedTest test =
        new PlannedTest(errors, options, protectedGrams, figure.guards().totalGrams());
    double[] largest = own.largest().stream().mapToDouble(g -> g).toArray();
    return new LevelLimits(
        claim.level(),
        claim.correction(),
        figure.guards().changeKelvin(),
        protectedGrams,
        claim.detail().map(FigureDetail::typicalGrams).orElseGet(() -> Summary.median(largest)),
        figure.printableGrams(),
        errors.repeatability(),
        finished(study, test),
        jig(study, test, claim));
  }

  private static ProductionTest jig(Study study, PlannedTest test, LevelClaim claim) {
    if (claim.isMatched()) {
      return new ProductionTest.CannotProtect(new ProductionTest.Why.MatchedKits());
    }
    return SubjectRuns.onPartner(study)
        ? new ProductionTest.NotNeeded()
        : JigTestCalculator.of(test, study, claim.level().pointsKilograms().isEmpty());
  }

  private static ProductionTest finished(Study study, PlannedTest test) {
    boolean ofKits = study.claim().subject() == ClaimRequest.Subject.KIT;
    if (!ofKits && !SubjectRuns.onPartner(study)) {
      return new ProductionTest.NotNeeded();
    }
    boolean noKits = ofKits && study.design().reference().isPresent();
    if (noKits && test.tested().size() < test.errors().points().size()) {
      return new ProductionTest.CannotProtect(new ProductionTest.Why.NoKitMeasured());
    }
    return FinishedTestCalculator.of(test, study.claim().confidence(), !noKits);
  }
}
