package lotproof.claim.upkeep;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import lotproof.claim.LevelClaim;
import lotproof.claim.LevelCurves;
import lotproof.claim.LevelOutcome.Figure;
import lotproof.claim.StudyResult;
import lotproof.claim.SubjectRuns;
import lotproof.reduce.ErrorCurve;
import lotproof.study.CalibrationLevel;
import lotproof.study.ClaimForm;
import lotproof.study.ClaimSubject;
import lotproof.study.Study;
import lotproof.study.TemperatureCorrection;
import lotproof.work.Parallel;

/**
 * Production tests that protect the figures of a study.
 *
 * @param subject what the figures are for
 * @param tested what is tested finished or alone on its partner, one of them, in words
 * @param form of the figures
 * @param levels one for each calibration level with a figure
 * @param cautions what the limits are not
 */
public record ProductionLimits(
    ClaimSubject subject,
    String tested,
    ClaimForm form,
    List<LevelLimits> levels,
    List<String> cautions) {

  /**
   * The tests of one level.
   *
   * @param level what the buyer has done
   * @param correction how the firmware corrects for temperature, if it does
   * @param figureGrams the figure that they protect
   * @param typicalGrams half of the tested kits have a largest error up to this (the median kit)
   * @param characterisedGrams the safest figure of the study, without any production test
   * @param pair the test of finished kits
   * @param jig the tests of cells and boards alone
   */
  public record LevelLimits(
      CalibrationLevel level,
      Optional<TemperatureCorrection> correction,
      double figureGrams,
      double typicalGrams,
      double characterisedGrams,
      PairTest pair,
      JigTest jig) {

    /** Whether some test protects the figure. */
    public boolean isProtected() {
      return pair instanceof PairTest.Protects
          || (pair instanceof PairTest.NotNeeded && jig instanceof JigTest.Protects);
    }
  }

  public ProductionLimits {
    levels = List.copyOf(levels);
    cautions = List.copyOf(cautions);
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
    return new ProductionLimits(
        result.study().claim().subject(),
        SubjectRuns.one(result.study()),
        result.study().claim().form(),
        levels,
        List.of(
            "Production limits protect a figure of reading. They are no safety limits and say"
                + " nothing about strength, overload or structure.",
            "They make no instrument fit for trade: weighing that sets a price needs type approval"
                + " and verification under the local law.",
            "They hold for the tester, masses and loads named here; a change of the tester needs"
                + " its uncertainty anew."));
  }

  private static LevelLimits of(
      StudyResult result, LimitOptions options, LevelClaim claim, Figure figure) {
    Study study = result.study();
    List<ErrorCurve> own =
        claim.curves().stream().filter(c -> SubjectRuns.holds(study, c.cell(), c.board())).toList();
    boolean foretold =
        figure.temperatureChangeKelvin().isPresent() && !options.changesTemperature();
    TestedErrors errors =
        TestedErrors.of(
            own,
            figure.points(),
            claim.form(),
            foretold ? readings(result, claim) : Optional.empty());
    double protectedGrams =
        Optional.ofNullable(options.figuresGrams().get(claim.level().key()))
            .or(() -> claim.wanted().map(LevelClaim.Verdict::wantedGrams))
            .orElse(figure.safestGrams());
    TestedItem item = TestedItem.of(study, claim, figure, options.changesTemperature());
    double added = figure.guardGrams();
    double[] largest = own.stream().mapToDouble(c -> largest(c, claim.form())).sorted().toArray();
    return new LevelLimits(
        claim.level(),
        claim.correction(),
        protectedGrams,
        claim.detail().map(d -> d.limits().typicalGrams()).orElse(median(largest).orElse(0)),
        figure.safestGrams(),
        pair(study, item, errors, options, protectedGrams, added),
        jig(study, claim, item, errors, options, protectedGrams, added));
  }

  /** What a test at one temperature reads of the runs behind a figure. */
  private static Optional<List<ErrorCurve>> readings(StudyResult result, LevelClaim claim) {
    return LevelCurves.of(result, claim) instanceof LevelCurves.Found found
        ? Optional.of(found.atOneTemperature())
        : Optional.empty();
  }

  private static double largest(ErrorCurve curve, ClaimForm form) {
    return curve.points().stream()
        .mapToDouble(p -> form.side().counted(p.errorGrams()) / form.weight(p.loadKilograms()))
        .reduce(0, Math::max);
  }

  private static PairTest pair(
      Study study,
      TestedItem item,
      TestedErrors errors,
      LimitOptions options,
      double figureGrams,
      double addedGrams) {
    String subject = study.claim().subject().key();
    if (study.claim().subject() != ClaimSubject.KIT && SubjectRuns.partner(study).isEmpty()) {
      return new PairTest.NotNeeded(
          "The claim is for a "
              + subject
              + " alone, and a finished kit shows its "
              + subject
              + " and its partner together; the test of each "
              + subject
              + " on a jig is the one that counts.");
    }
    boolean noKits =
        study.claim().subject() == ClaimSubject.KIT && study.design().reference().isPresent();
    if (noKits && errors.tested(options).size() < errors.points().size()) {
      return new PairTest.CannotProtect(
          "The study measured cells and boards on reference partners and no kit, so it does not say"
              + " how a kit's error at one load follows from that at another; test at all loads of"
              + " the study, rising and falling.");
    }
    PairTest test =
        PairTests.of(item, errors, options, study.claim().confidence(), figureGrams, addedGrams);
    return noKits && test instanceof PairTest.Protects protects ? protects.withoutRuns() : test;
  }

  private static JigTest jig(
      Study study,
      LevelClaim claim,
      TestedItem item,
      TestedErrors errors,
      LimitOptions options,
      double figureGrams,
      double addedGrams) {
    Optional<String> partner = SubjectRuns.partner(study);
    if (partner.isPresent()) {
      return new JigTest.NotNeeded(
          "The claim is for a "
              + study.claim().subject().key()
              + " alone on "
              + partner.get()
              + ", and the test above is that test.");
    }
    boolean factoryFactor = claim.level().pointsKilograms().isEmpty();
    return JigTests.of(study, item, factoryFactor, errors, options, figureGrams, addedGrams);
  }

  private static OptionalDouble median(double[] sorted) {
    int n = sorted.length;
    return n == 0
        ? OptionalDouble.empty()
        : OptionalDouble.of(0.5 * (sorted[(n - 1) / 2] + sorted[n / 2]));
  }
}
