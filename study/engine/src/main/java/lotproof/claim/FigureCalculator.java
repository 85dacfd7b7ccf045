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
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import lotproof.reduce.ErrorCurve;
import lotproof.reduce.LoadRun;
import lotproof.spread.FactorPlan;
import lotproof.spread.MeasuredValues;
import lotproof.spread.StudySpread;
import lotproof.spread.TestedKits;
import lotproof.statistics.tolerance.DistributionFree;
import lotproof.study.CalibrationLevel;
import lotproof.study.ClaimRequest;
import lotproof.study.Study;

/**
 * The smallest figure that the study supports at one calibration level.
 *
 * <p>Each kit is judged by its largest error over all loads in the claim's form, so that the figure
 * holds for all loads together. Three bounds for a future kit are computed and the largest counts
 * (docs/method.md, "The figure"): the limit of the mixed model at each load; the quantile of
 * simulated error curves with the covariances of the model; and the largest error over the tested
 * kits, which needs no model. Guard bands are added, never averaged.
 */
final class FigureCalculator {
  private static final double STEP_TOLERANCE = 1e-9;
  private static final int KITS_FOR_DISTRIBUTION_FREE = 45;
  private static final double CONTENT_WITHOUT_NORMALITY = 0.95;

  private final Study study;
  private final Map<String, LoadRun> runs;
  private final StudySpread spread;
  private final ErrorModel.Settings settings;

  FigureCalculator(Study study, List<LoadRun> runs, int draws) {
    this.study = study;
    this.runs = runs.stream().collect(Collectors.toMap(LoadRun::name, Function.identity()));
    this.spread = new StudySpread(study);
    this.settings = new ErrorModel.Settings(study.claim().confidence(), draws, study.seed());
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
      Optional<TemperatureEffect.Estimated> correction) {
    if (curves.size() < 2) {
      return none(
          curves.isEmpty()
              ? "No run has the loads that this calibration needs."
              : "Only one run was measured; how kits differ cannot be known from it.");
    }
    Optional<GuardBands> guards = GuardBands.of(study, level, curves, correction);
    if (guards.isEmpty()) {
      return none(
          "OIML R 111 has no limit of error for the masses and classes that the study names, so their error cannot be bounded.");
    }
    JudgedCurves judged = JudgedCurves.of(curves, study.claim().form());
    if (judged.size() == 0) {
      return none("All errors are zero, which no measurement shows.");
    }
    MeasuredValues largest = largestErrors(judged);
    FactorPlan plan = FactorPlan.of(largest);
    Optional<String> obstacle = ClaimWeights.obstacle(study.claim().subject(), plan, largest);
    if (obstacle.isPresent()) {
      return none(obstacle.get());
    }
    FigureEvidence evidence =
        new FigureEvidence(
            level, judged, guards.get(), largest, plan, ClaimWeights.of(study, plan, largest));
    ErrorModel.Outcome outcome =
        ErrorModel.fit(judged, largest, plan, evidence.weights(), settings, Optional.empty());
    return outcome instanceof ErrorModel.Outcome.Fitted fitted
        ? found(evidence, fitted.model())
        : none(((ErrorModel.Outcome.NotFitted) outcome).reason());
  }

  private Computed found(FigureEvidence evidence, ErrorModel model) {
    double content = study.claim().content();
    double confidence = study.claim().confidence();
    boolean ofKits = evidence.hasTested(study.claim().subject());
    TestedKits kits = evidence.tested(study.claim().subject());
    List<ErrorCurve> curves = evidence.judged().curves();
    int worstRun =
        IntStream.range(0, curves.size())
            .boxed()
            .max(Comparator.comparingDouble(i -> evidence.largest().values().get(i)))
            .orElseThrow();
    List<LevelOutcome.PointLimit> points = model.points(content, confidence);
    int worstPoint = model.worst(content, confidence);
    double curveGrams = model.curveGrams(content, confidence);
    double modelGrams = Math.max(curveGrams, points.get(worstPoint).figureGrams());
    double freeGrams = ofKits ? evidence.largest().values().get(worstRun) : 0;
    GuardBands guards = evidence.guards();
    double bound = Math.max(modelGrams, freeGrams) + guards.totalGrams();
    double safest = roundedOutward(bound);
    OptionalDouble theseLots = withinTheseLots(evidence, freeGrams);
    FigureExplanation explanation =
        new FigureExplanation(study, evidence.level(), guards, curveGrams, points.get(worstPoint));
    int disjoint = kits.disjoint().size();
    ErrorCurve worstKit = curves.get(worstRun);
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
            theseLots,
            points,
            worstPoint,
            explanation.tree(
                safest,
                bound,
                modelGrams,
                ofKits
                    ? Optional.of(
                        explanation.testedKits(
                            worstKit, run(worstKit), evidence.judged().worstReading(worstKit)))
                    : Optional.empty()),
            remarks(kits, evidence, safest, theseLots));
    return new Computed.Found(figure, evidence, model);
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
    return new MeasuredValues(
        "error",
        "Error of reading",
        "g",
        judged.largest(),
        spread.labels(judged.curves().stream().map(this::run).toList()));
  }

  private LoadRun run(ErrorCurve curve) {
    return Objects.requireNonNull(runs.get(curve.run()));
  }

  /**
   * The figure for these lots alone: the model without lots, when they are too few to bound how
   * lots differ or when their spread is only assumed.
   */
  private OptionalDouble withinTheseLots(FigureEvidence evidence, double freeGrams) {
    boolean few = evidence.plan().hasFewLots(evidence.largest());
    boolean assumed = !evidence.weights().meanExtra().isEmpty();
    if (!few && !assumed) {
      return OptionalDouble.empty();
    }
    FactorPlan these = evidence.plan().withoutLots();
    ErrorModel.Outcome outcome =
        ErrorModel.fit(
            evidence.judged(),
            evidence.largest(),
            these,
            ClaimWeights.ofSubject(study.claim().subject()),
            settings,
            Optional.empty());
    if (!(outcome instanceof ErrorModel.Outcome.Fitted fitted)) {
      return OptionalDouble.empty();
    }
    ErrorModel model = fitted.model();
    double confidence = study.claim().confidence();
    double modelGrams =
        model.boundGrams(study.claim().content(), confidence, model.drawnLargest(confidence));
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
    if (!evidence.hasTested(claim.subject())) {
      remarks.add(
          "The figure is for a "
              + claim.subject().key()
              + " alone, with an average partner: it comes from the model, and no tested kit bounds it without one.");
    } else if (content > CONTENT_WITHOUT_NORMALITY && supported < content) {
      remarks.add(
          String.format(
              Locale.ROOT,
              "The figure for %.4g %% of kits holds if the spread is normal. The tested kits alone support %.3g %%.",
              100 * content,
              100 * supported));
    } else if (n < KITS_FOR_DISTRIBUTION_FREE) {
      remarks.add(
          String.format(
              Locale.ROOT,
              "%d kits that share no unit are few: without a model they support %.3g %% of kits, so the figure leans on the normal shape.",
              n,
              100 * supported));
    }
    theseLots.ifPresent(grams -> remarks.add(lotRemark(claim, safest, grams)));
    remarks.addAll(evidence.plan().notes());
    return remarks;
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
