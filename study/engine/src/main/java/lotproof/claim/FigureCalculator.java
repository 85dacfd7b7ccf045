package lotproof.claim;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.Function;
import java.util.function.Supplier;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import lotproof.model.ClaimWeights;
import lotproof.model.ErrorModel;
import lotproof.model.FactorPlan;
import lotproof.model.MeasuredValues;
import lotproof.model.ModelPart;
import lotproof.model.ReferencePartners;
import lotproof.model.ReferencePartners.VirtualKits;
import lotproof.reduce.ErrorCurve;
import lotproof.reduce.LoadRun;
import lotproof.spread.StudySpread;
import lotproof.spread.TestedKits;
import lotproof.statistics.tolerance.DistributionFree;
import lotproof.study.CalibrationLevel;
import lotproof.study.ClaimForm;
import lotproof.study.ClaimRequest;
import lotproof.study.ClaimSubject;
import lotproof.study.Design;
import lotproof.study.Study;
import lotproof.work.Parallel;

/**
 * The smallest figure that the study supports at one calibration level.
 *
 * <p>Each kit is judged by its largest error over all loads in the claim's form, so that the figure
 * holds for all loads together. Three bounds for a future kit are computed and the largest counts
 * (docs/method.md, "The figure"): the limit of the mixed model at each load; the bound over all
 * loads together with the covariances of the model; and the largest error over the tested kits,
 * which needs no model. Guard bands are added, never averaged.
 */
final class FigureCalculator {
  private static final double STEP_TOLERANCE = 1e-9;
  private static final int KITS_FOR_DISTRIBUTION_FREE = 45;
  private static final double CONTENT_WITHOUT_NORMALITY = 0.95;

  /** What was measured of limits on one side, docs/guarantees.md; fifty kits do not show it. */
  private static final String ONE_SIDED =
      "A limit on one side leans on the shape of the spread more than one on both sides: in"
          + " simulated studies with a light skew (0.5), which fifty units seldom show, the model's"
          + " limit on the long side held in 85 to 91 of 100 where 95 were asked.";

  private final Study study;
  private final Map<String, LoadRun> runs;
  private final StudySpread spread;
  private final SideAllowances sides;

  FigureCalculator(Study study, List<LoadRun> runs, SideAllowances sides) {
    this.study = study;
    this.runs = runs.stream().collect(Collectors.toMap(LoadRun::name, Function.identity()));
    this.spread = new StudySpread(study);
    this.sides = sides;
  }

  /** A figure with what it was computed from, or the reason why there is none. */
  sealed interface Computed {
    /** The outcome for the result. */
    LevelOutcome outcome();

    /** There is a figure. */
    record Found(LevelOutcome.Figure outcome, FigureEvidence evidence, ErrorModel model)
        implements Computed {}

    /** There is none. */
    record None(LevelOutcome.NoFigure outcome) implements Computed {}
  }

  private static Computed none(String reason) {
    return new Computed.None(new LevelOutcome.NoFigure(reason));
  }

  Computed figure(
      CalibrationLevel level,
      List<ErrorCurve> curves,
      Optional<TemperatureEffect.Estimated> correction,
      double driftGrams) {
    if (curves.size() < 2) {
      return none(
          curves.isEmpty()
              ? "No run has the loads that this calibration needs."
              : "Only one run was measured; how "
                  + study.claim().subject().plural()
                  + " differ cannot be known from it.");
    }
    Optional<GuardBands> guards =
        GuardBands.of(study, level, curves, correction)
            .map(bands -> bands.withSides(sides.measured()).withDrift(driftGrams));
    if (guards.isEmpty()) {
      return none(
          "OIML R 111 has no limit of error for the masses and classes that the study names, so"
              + " their error cannot be bounded.");
    }
    JudgedCurves judged = JudgedCurves.of(curves, study.claim().form());
    if (judged.size() == 0) {
      return none("All errors are zero, which no measurement shows.");
    }
    MeasuredValues largest = largestErrors(judged);
    return study.design().kind() == Design.Kind.REFERENCE_PARTNER
            && study.claim().subject() == ClaimSubject.KIT
        ? onReferencePartners(level, judged, guards.get(), largest)
        : onKits(level, judged, guards.get());
  }

  private Computed onKits(CalibrationLevel level, JudgedCurves all, GuardBands guards) {
    List<Integer> own = ofSubject(all);
    if (own.size() < 2) {
      return none("Fewer than two runs were made on the reference partner.");
    }
    JudgedCurves judged = all.only(own);
    MeasuredValues largest = largestErrors(judged);
    FactorPlan plan = FactorPlan.of(largest);
    Optional<String> obstacle = ClaimWeights.obstacle(study.claim().subject(), plan, largest);
    if (obstacle.isPresent()) {
      return none(obstacle.get());
    }
    ModelPart part = ModelPart.ofAll(largest, plan, ClaimWeights.of(study, plan, largest));
    return fitted(
        new FigureEvidence(
            level, judged, guards, largest, List.of(part), judged.values(), Optional.empty()));
  }

  /** Runs that a claim for a unit alone can use: with reference partners those on the partner. */
  private List<Integer> ofSubject(JudgedCurves judged) {
    List<ErrorCurve> curves = judged.curves();
    return IntStream.range(0, curves.size())
        .filter(i -> SubjectRuns.holds(study, curves.get(i).cell(), curves.get(i).board()))
        .boxed()
        .toList();
  }

  private Computed onReferencePartners(
      CalibrationLevel level, JudgedCurves judged, GuardBands guards, MeasuredValues largest) {
    if (study.design().reference().isEmpty()) {
      return none("The study does not name its reference partners.");
    }
    ReferencePartners.Outcome outcome =
        ReferencePartners.of(
            study.design().reference().get(),
            largest,
            (plan, values) -> ClaimWeights.of(study, plan, values));
    if (!(outcome instanceof ReferencePartners.Outcome.Joined joined)) {
      return none(((ReferencePartners.Outcome.NotJoined) outcome).reason());
    }
    VirtualKits kits = joined.partners().kits(judged.byPoint(), judged.twoSided());
    return fitted(
        new FigureEvidence(
            level,
            judged,
            guards.withReference(kits.guardGrams()),
            largest,
            joined.partners().halves(),
            kits.values(),
            Optional.of(kits)));
  }

  private Computed fitted(FigureEvidence evidence) {
    ErrorModel.Outcome outcome =
        ErrorModel.fit(
            evidence.parts(), evidence.values(), study.claim().confidence(), Optional.empty());
    return outcome instanceof ErrorModel.Outcome.Fitted fitted
        ? found(evidence, fitted.model())
        : none(((ErrorModel.Outcome.NotFitted) outcome).reason());
  }

  private Computed found(FigureEvidence evidence, ErrorModel model) {
    double content = study.claim().content();
    double confidence = study.claim().confidence();
    boolean ofKits = evidence.hasTested(study.claim().subject());
    TestedKits kits = evidence.tested(study.claim().subject());
    double freeGrams = freeGrams(evidence, ofKits);
    Supplier<OptionalDouble> withinTheseLots =
        Parallel.begin(() -> withinTheseLots(evidence, freeGrams));
    List<LevelOutcome.PointLimit> points =
        LevelOutcome.PointLimit.all(model, evidence.judged(), content, confidence);
    int worstPoint = model.worst(content, confidence);
    double curveGrams = model.curveGrams(content, confidence);
    double modelGrams = Math.max(curveGrams, points.get(worstPoint).figureGrams());
    GuardBands guards = evidence.guards();
    double bound = Math.max(modelGrams, freeGrams) + guards.totalGrams();
    double safest = roundedOutward(bound);
    OptionalDouble theseLots = withinTheseLots.get();
    FigureExplanation explanation =
        new FigureExplanation(study, evidence.level(), guards, curveGrams, points.get(worstPoint));
    int disjoint = kits.disjoint().size();
    LevelOutcome.Figure figure =
        new LevelOutcome.Figure(
            safest,
            bound,
            safest / (1000 * study.kit().capacityKilograms()),
            modelGrams,
            freeGrams,
            ofKits ? DistributionFree.confidenceOfExtreme(disjoint, content) : 0,
            ofKits ? DistributionFree.contentOfExtreme(disjoint, confidence) : 0,
            ofKits ? kits.first().size() : 0,
            ofKits ? disjoint : 0,
            guards.benchGrams(),
            guards.buyerGrams(),
            guards.betweenGrams(),
            guards.temperatureGrams(),
            guards.changeKelvin(),
            guards.referenceGrams(),
            guards.driftGrams(),
            guards.sides(),
            theseLots,
            points,
            worstPoint,
            explanation.tree(safest, bound, modelGrams, tested(explanation, evidence, ofKits)),
            remarks(kits, evidence, safest, theseLots));
    return new Computed.Found(figure, evidence, model);
  }

  private static double freeGrams(FigureEvidence evidence, boolean tested) {
    if (evidence.virtual().isPresent()) {
      return evidence.virtual().get().boundGrams();
    }
    return tested
        ? evidence.largest().values().stream().mapToDouble(Double::doubleValue).max().orElse(0)
        : 0;
  }

  private Optional<Explanation> tested(
      FigureExplanation explanation, FigureEvidence evidence, boolean tested) {
    if (evidence.virtual().isPresent()) {
      VirtualKits kits = evidence.virtual().get();
      return Optional.of(
          Explanation.given(
              "Virtual kits, number " + kits.rank() + " from the top",
              kits.boundGrams(),
              "g",
              "of " + kits.largest().length + " sums of a cell and a board on reference partners"));
    }
    if (!tested) {
      return Optional.empty();
    }
    List<ErrorCurve> curves = evidence.judged().curves();
    ErrorCurve worst =
        IntStream.range(0, curves.size())
            .boxed()
            .max(Comparator.comparingDouble(i -> evidence.largest().values().get(i)))
            .map(curves::get)
            .orElseThrow();
    return Optional.of(
        explanation.testedKits(worst, run(worst), evidence.judged().worstReading(worst)));
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

  private MeasuredValues largestErrors(JudgedCurves judged) {
    return spread.errors(judged.curves(), judged.largest());
  }

  private LoadRun run(ErrorCurve curve) {
    return Objects.requireNonNull(runs.get(curve.run()));
  }

  /**
   * The figure for these lots alone: the model without lots, when they are too few to bound how
   * lots differ or when their spread is only assumed.
   */
  private OptionalDouble withinTheseLots(FigureEvidence evidence, double freeGrams) {
    boolean few = evidence.parts().stream().anyMatch(ModelPart::hasFewLots);
    boolean assumed =
        evidence.parts().stream().anyMatch(part -> !part.weights().meanExtra().isEmpty());
    if (!few && !assumed) {
      return OptionalDouble.empty();
    }
    ClaimSubject subject = study.claim().subject();
    List<ModelPart> these =
        evidence.parts().stream().map(part -> part.withoutLots(subject)).toList();
    ErrorModel.Outcome outcome =
        ErrorModel.fit(these, evidence.values(), study.claim().confidence(), Optional.empty());
    if (!(outcome instanceof ErrorModel.Outcome.Fitted fitted)) {
      return OptionalDouble.empty();
    }
    ErrorModel model = fitted.model();
    double confidence = study.claim().confidence();
    double modelGrams = model.boundGrams(study.claim().content(), confidence);
    return OptionalDouble.of(
        roundedOutward(Math.max(freeGrams, modelGrams) + evidence.guards().totalGrams()));
  }

  private List<String> remarks(
      TestedKits kits, FigureEvidence evidence, double safest, OptionalDouble theseLots) {
    List<String> remarks = new ArrayList<>();
    ClaimRequest claim = study.claim();
    double content = claim.content();
    int n = kits.disjoint().size();
    double supported = DistributionFree.contentOfExtreme(n, claim.confidence());
    if (evidence.virtual().isPresent()) {
      remarks.add(partnerRemark(evidence.virtual().get()));
    } else if (!evidence.hasTested(claim.subject())) {
      remarks.add(
          "The figure is for a "
              + claim.subject().key()
              + " alone, with an average partner: it comes from the model, and no tested kit bounds"
              + " it without one.");
    } else if (content > CONTENT_WITHOUT_NORMALITY && supported < content) {
      remarks.add(
          String.format(
              Locale.ROOT,
              "The figure for %s %% of %ss holds if the spread is normal. The tested %ss alone"
                  + " support %.3g %%.",
              Numbers.percent(content),
              claim.subject().key(),
              claim.subject().key(),
              100 * supported));
    } else if (n < KITS_FOR_DISTRIBUTION_FREE) {
      remarks.add(
          String.format(
              Locale.ROOT,
              "%d %ss%s are few: without a model they support %.3g %% of %ss, so the figure leans"
                  + " on the normal shape.",
              n,
              claim.subject().key(),
              claim.subject() == ClaimSubject.KIT ? " that share no unit" : "",
              100 * supported,
              claim.subject().key()));
    }
    if (claim.form().side() != ClaimForm.Side.BOTH) {
      remarks.add(ONE_SIDED);
    }
    theseLots.ifPresent(grams -> remarks.add(lotRemark(claim, safest, grams)));
    sides.measured().stream().map(FigureCalculator::sideRemark).forEach(remarks::add);
    remarks.addAll(sides.gaps());
    evidence.parts().stream()
        .flatMap(part -> part.plan().notes().stream())
        .filter(note -> !isOfPartner(note, claim.subject()))
        .forEach(remarks::add);
    return remarks;
  }

  private String partnerRemark(VirtualKits virtual) {
    boolean dummy =
        study.design().reference().map(Design.ReferencePartners::dummyBridge).orElse(false);
    return "No kit was measured: cells and boards met reference partners only. The data's own bound"
        + " is number "
        + virtual.rank()
        + " from the top of "
        + virtual.largest().length
        + " virtual kits, whose confidence is simulated, not proven. What a cell and a board do to"
        + " each other is "
        + (dummy
            ? "not seen at all where boards met a dummy bridge"
            : "seen only against the reference partners")
        + "; bench error counts twice, which errs on the safe side.";
  }

  /** Whether a note speaks of the kind of unit that the claim is not about. */
  private static boolean isOfPartner(String note, ClaimSubject subject) {
    if (subject == ClaimSubject.KIT) {
      return false;
    }
    String partner = subject == ClaimSubject.CELL ? "board" : "cell";
    return note.startsWith("Only one " + partner) || note.startsWith("All " + partner + "s");
  }

  private static String sideRemark(SideAllowance side) {
    return String.format(
        Locale.ROOT,
        "%s: %s g are added for %s, from %d runs, of which %d share no unit%s.",
        side.test().effect().title(),
        Numbers.digits(side.grams(), 3),
        side.test().covers(),
        side.runs(),
        side.kits(),
        side.withoutLots() ? "; too few lots were tested to say how lots differ in it" : "");
  }

  private static String lotRemark(ClaimRequest claim, double safest, double grams) {
    String reason =
        claim.assumedLotRatio().isPresent()
            ? "How lots differ is assumed, not measured (lots spread "
                + Numbers.plain(claim.assumedLotRatio().getAsDouble())
                + " times as far as units of one lot)"
            : "Few lots cannot bound how lots differ";
    return String.format(
        Locale.ROOT,
        "%s: the figure is %.2g times as wide because of it. For these lots alone it would be %s.",
        reason,
        safest / grams,
        claim.form().words(grams));
  }
}
