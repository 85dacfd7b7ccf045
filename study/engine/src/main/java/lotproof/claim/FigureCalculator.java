package lotproof.claim;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import lotproof.claim.LevelOutcome.Remark;
import lotproof.claim.evidence.ErrorsInClaimForm;
import lotproof.claim.evidence.GuardBands;
import lotproof.claim.evidence.GuardBands.Kind;
import lotproof.claim.evidence.Refusal;
import lotproof.claim.evidence.TemperatureEffect;
import lotproof.model.ClaimWeights;
import lotproof.model.ErrorModel;
import lotproof.model.FactorPlan;
import lotproof.model.MeasuredValues;
import lotproof.model.ModelPart;
import lotproof.model.ReferencePartners;
import lotproof.model.ReferencePartners.VirtualKits;
import lotproof.model.Role;
import lotproof.reduce.ErrorCurve;
import lotproof.reduce.LoadRun;
import lotproof.spread.StudySpread;
import lotproof.spread.TestedKits;
import lotproof.statistics.tolerance.DistributionFree;
import lotproof.study.CalibrationLevel;
import lotproof.study.ClaimRequest;
import lotproof.study.Design;
import lotproof.study.Study;

/**
 * The smallest figure that the study supports at one calibration level.
 *
 * <p>Each kit is judged by its largest error over all loads in the claim's form, so that the figure
 * holds for all loads together. Three bounds for a future kit are computed and the largest counts
 * (docs/method.md, "The figure"): the limit of the mixed model at each load; the bound over all
 * loads together with the covariances of the model; and the largest error over the tested kits,
 * which needs no model. Guard bands are added, never averaged.
 */
record FigureCalculator(Study study, List<LoadRun> runs, SideAllowances sides) {
  private static final double STEP_TOLERANCE = 1e-9;

  /** A figure with what it was computed from, or the reason why there is none. */
  sealed interface Computed {
    /** The outcome for the result. */
    LevelOutcome outcome();

    /** There is a figure. */
    record Found(LevelOutcome.Figure outcome, FigureEvidence evidence, ErrorModel model)
        implements Computed {
      double guardGrams() {
        return evidence.guards().totalGrams();
      }

      Found with(LevelOutcome.Remark remark) {
        return new Found(outcome.with(remark), evidence, model);
      }
    }

    /** There is none. */
    record None(LevelOutcome.NoFigure outcome) implements Computed {}
  }

  static Computed none(Refusal why) {
    return new Computed.None(new LevelOutcome.NoFigure(why));
  }

  private static Computed none(Refusal.Cause cause) {
    return none(new Refusal.Plain(cause));
  }

  Computed figure(
      CalibrationLevel level,
      List<ErrorCurve> curves,
      Optional<TemperatureEffect> correction,
      double driftGrams) {
    if (curves.size() < 2) {
      return none(curves.isEmpty() ? Refusal.Cause.NO_CALIBRATION_LOADS : Refusal.Cause.ONE_RUN);
    }
    Optional<GuardBands> guards =
        GuardBands.of(study, level, curves, correction, sides.measured())
            .map(bands -> driftGrams > 0 ? bands.with(Kind.DRIFT, driftGrams) : bands);
    if (guards.isEmpty()) {
      return none(Refusal.Cause.NO_MASS_LIMIT);
    }
    ErrorsInClaimForm judged = ErrorsInClaimForm.of(curves, study.claim().form());
    if (judged.size() == 0) {
      return none(Refusal.Cause.NO_ERROR);
    }
    return study.design().kind() == Design.Kind.REFERENCE_PARTNER
            && study.claim().subject() == ClaimRequest.Subject.KIT
        ? onReferencePartners(level, judged, guards.get())
        : onKits(level, judged.ofSubject(study), guards.get());
  }

  private Computed onKits(CalibrationLevel level, ErrorsInClaimForm judged, GuardBands guards) {
    if (judged.curves().size() < 2) {
      return none(Refusal.Cause.FEW_RUNS_ON_PARTNER);
    }
    MeasuredValues largest = largest(judged);
    FactorPlan plan = FactorPlan.of(largest);
    if (!ClaimWeights.isApart(study.claim().subject(), plan, largest)) {
      return none(Refusal.Cause.CELLS_AND_BOARDS_MIXED);
    }
    ModelPart part = ModelPart.ofAll(largest, plan, ClaimWeights.of(study, plan, largest));
    return fitted(
        new FigureEvidence(
            study,
            level,
            judged,
            guards,
            largest,
            List.of(part),
            judged.values(),
            Optional.empty()));
  }

  private MeasuredValues largest(ErrorsInClaimForm judged) {
    return new StudySpread(study).errors(judged.curves(), judged.largest());
  }

  private Computed onReferencePartners(
      CalibrationLevel level, ErrorsInClaimForm judged, GuardBands guards) {
    if (study.design().reference().isEmpty()) {
      return none(Refusal.Cause.NO_PARTNERS_NAMED);
    }
    MeasuredValues largest = largest(judged);
    ReferencePartners.Outcome outcome =
        ReferencePartners.of(
            study.design().reference().get(),
            largest,
            (plan, values) -> ClaimWeights.of(study, plan, values));
    if (!(outcome instanceof ReferencePartners.Outcome.Joined joined)) {
      return none(
          new Refusal.NotJoined(((ReferencePartners.Outcome.NotJoined) outcome).referenceRuns()));
    }
    VirtualKits kits = joined.partners().kits(judged.byPoint(), judged.form().twoSided());
    return fitted(
        new FigureEvidence(
            study,
            level,
            judged,
            guards.with(Kind.REFERENCE, kits.guardGrams()),
            largest,
            joined.partners().halves(),
            kits.values(),
            Optional.of(kits)));
  }

  private Computed fitted(FigureEvidence evidence) {
    ErrorModel.Outcome outcome =
        ErrorModel.fit(evidence.parts(), evidence.values(), Optional.empty());
    return outcome instanceof ErrorModel.Outcome.Fitted fitted
        ? found(evidence, fitted.model())
        : none(new Refusal.NotEstimable(((ErrorModel.Outcome.NotFitted) outcome).why().reason()));
  }

  private Computed found(FigureEvidence evidence, ErrorModel model) {
    double content = evidence.content();
    double confidence = evidence.confidence();
    TestedKits kits = evidence.tested();
    int disjoint = kits.disjoint().size();
    boolean tested = evidence.hasTested();
    double freeGrams =
        evidence
            .virtual()
            .map(VirtualKits::boundGrams)
            .orElse(tested ? Collections.max(evidence.largest().values()) : 0.0);
    List<LevelOutcome.PointLimit> points =
        LevelOutcome.PointLimit.all(model, evidence.judged(), content, confidence);
    int worstPoint = model.worst(content, confidence);
    double curveGrams = model.curveGrams(content, confidence);
    double modelGrams = Math.max(curveGrams, points.get(worstPoint).figureGrams());
    GuardBands guards = evidence.guards();
    double limit = Math.max(modelGrams, freeGrams) + guards.totalGrams();
    double printable = roundedOutward(limit);
    OptionalDouble theseLots = withinTheseLots(evidence, freeGrams);
    FigureExplanation explanation =
        new FigureExplanation(evidence, points.get(worstPoint), curveGrams, runs);
    return new Computed.Found(
        new LevelOutcome.Figure(
            printable,
            limit,
            printable / (1000 * study.kit().capacityKilograms()),
            modelGrams,
            new LevelOutcome.Tested(
                freeGrams,
                tested ? DistributionFree.confidenceOfExtreme(disjoint, content) : 0,
                tested ? DistributionFree.contentOfExtreme(disjoint, confidence) : 0,
                tested ? kits.first().size() : 0,
                tested ? disjoint : 0,
                evidence.measured()),
            guards,
            theseLots,
            points,
            worstPoint,
            explanation.tree(printable, limit, modelGrams),
            remarks(evidence, printable, theseLots)),
        evidence,
        model);
  }

  /** Smallest multiple of the study's step that is not below the bound. */
  double roundedOutward(double boundGrams) {
    double step = study.claim().roundingGrams();
    double steps = boundGrams / step;
    double nearest = Math.rint(steps);
    // a bound that is a step but for its last binary digits is that step
    boolean onStep = Math.abs(steps - nearest) <= STEP_TOLERANCE;
    return (onStep ? nearest : Math.ceil(steps)) * step;
  }

  /**
   * The figure for these lots alone: the model without lots, when they are too few to bound how
   * lots differ or when their spread is only assumed.
   */
  private OptionalDouble withinTheseLots(FigureEvidence evidence, double freeGrams) {
    boolean fewOrAssumed =
        evidence.parts().stream()
            .anyMatch(part -> part.hasFewLots() || !part.weights().meanExtra().isEmpty());
    List<ModelPart> these =
        evidence.parts().stream().map(part -> part.withoutLots(evidence.subject())).toList();
    if (!fewOrAssumed
        || !(ErrorModel.fit(these, evidence.values(), Optional.empty())
            instanceof ErrorModel.Outcome.Fitted fitted)) {
      return OptionalDouble.empty();
    }
    double modelGrams = fitted.model().boundGrams(evidence.content(), evidence.confidence());
    return OptionalDouble.of(
        roundedOutward(Math.max(freeGrams, modelGrams) + evidence.guards().totalGrams()));
  }

  private List<Remark> remarks(
      FigureEvidence evidence, double printable, OptionalDouble theseLots) {
    List<Remark> remarks = new ArrayList<>();
    if (evidence.virtual().isPresent()) {
      VirtualKits kits = evidence.virtual().get();
      remarks.add(new Remark.VirtualKits(kits.rank(), kits.largest().length));
    } else if (!evidence.hasTested()) {
      int inKits = TestedKits.of(evidence.largest()).first().size();
      remarks.add(new Remark.ModelOnly(evidence.measured(), inKits));
    }
    if (!study.claim().form().twoSided()) {
      remarks.add(new Remark.OneSided());
    }
    theseLots.ifPresent(grams -> remarks.add(new Remark.LotsWiden(printable / grams)));
    remarks.addAll(sides.gaps());
    evidence.parts().stream()
        .flatMap(part -> part.plan().notes().stream())
        .filter(note -> !isOfPartner(note))
        .map(Remark.LeftOut::new)
        .forEach(remarks::add);
    return remarks;
  }

  /** Whether a note speaks of the kind of unit that the claim is not about. */
  private boolean isOfPartner(FactorPlan.Note note) {
    boolean ofKind =
        note.kind() == FactorPlan.Kind.ONE_UNIT || note.kind() == FactorPlan.Kind.ONE_LOT;
    return ofKind
        && switch (study.claim().subject()) {
          case KIT -> false;
          case CELL -> note.role() == Role.BOARD;
          case BOARD -> note.role() == Role.CELL;
        };
  }
}
