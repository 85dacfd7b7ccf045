package lotproof.claim;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
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
import lotproof.spread.Spread;
import lotproof.spread.SpreadOptions;
import lotproof.spread.StudySpread;
import lotproof.spread.TestedKits;
import lotproof.statistics.tolerance.DistributionFree;
import lotproof.study.CalibrationLevel;
import lotproof.study.ClaimRequest;
import lotproof.study.Study;

/**
 * The smallest figure &plusmn;A that the study supports at one calibration level.
 *
 * <p>Each kit is judged by the largest size of its error over all loads, so that the figure holds
 * for all loads together. Three bounds for a future kit are computed and the largest counts
 * (docs/method.md, "The figure"): the limit about zero of the mixed model at each load; the
 * quantile of simulated error curves with the covariances of the model; and the largest size of
 * error over the tested kits, which needs no model. The limits of error of the bench's and the
 * buyer's masses are added, never averaged.
 */
final class FigureCalculator {
  /** Errors of all runs below this are a fixed point of the calibration, not a measurement. */
  private static final double FIXED_POINT_GRAMS = 1e-6;

  private static final double STEP_TOLERANCE = 1e-9;

  private static final int KITS_FOR_DISTRIBUTION_FREE = 45;
  private static final double CONTENT_WITHOUT_NORMALITY = 0.95;

  private final Study study;
  private final Map<String, LoadRun> runs;
  private final StudySpread spread;
  private final Spread limits;
  private final int draws;

  FigureCalculator(Study study, List<LoadRun> runs, int draws) {
    ClaimRequest claim = study.claim();
    this.study = study;
    this.runs = runs.stream().collect(Collectors.toMap(LoadRun::name, Function.identity()));
    this.spread = new StudySpread(study);
    this.limits =
        new Spread(new SpreadOptions(claim.content(), claim.confidence(), Optional.empty(), false));
    this.draws = draws;
  }

  LevelOutcome figure(CalibrationLevel level, List<ErrorCurve> curves) {
    if (curves.size() < 2) {
      return new LevelOutcome.NoFigure(
          curves.isEmpty()
              ? "No run has the loads that this calibration needs."
              : "Only one run was measured; how kits differ cannot be known from it.");
    }
    Optional<GuardBands> guards = GuardBands.of(study, level);
    if (guards.isEmpty()) {
      return new LevelOutcome.NoFigure(
          "OIML R 111 has no limit of error for the masses and classes that the study names, so their error cannot be bounded.");
    }
    MeasuredValues largest = largestErrors(curves);
    FactorPlan plan = FactorPlan.of(largest);
    List<Integer> points = movingPoints(curves);
    if (points.isEmpty()) {
      return new LevelOutcome.NoFigure("All errors are zero, which no measurement shows.");
    }
    ErrorModel.Outcome outcome = model(curves, points, largest, plan);
    return outcome instanceof ErrorModel.Outcome.Fitted fitted
        ? figure(new Evidence(level, curves, guards.get(), largest, plan, points), fitted.model())
        : new LevelOutcome.NoFigure(((ErrorModel.Outcome.NotFitted) outcome).reason());
  }

  /** What a figure is computed from, besides the model. */
  private record Evidence(
      CalibrationLevel level,
      List<ErrorCurve> curves,
      GuardBands guards,
      MeasuredValues largest,
      FactorPlan plan,
      List<Integer> points) {

    double guardGrams() {
      return guards.benchGrams() + guards.buyerGrams();
    }
  }

  private ErrorModel.Outcome model(
      List<ErrorCurve> curves, List<Integer> points, MeasuredValues labelled, FactorPlan plan) {
    return ErrorModel.fit(curves, points, labelled, plan, limits, study.claim().confidence());
  }

  private double curveGrams(ErrorModel model) {
    return model.curveGrams(study.claim().content(), draws, study.seed());
  }

  private LevelOutcome.Figure figure(Evidence evidence, ErrorModel model) {
    TestedKits kits = TestedKits.of(evidence.largest());
    int worstRun =
        IntStream.range(0, evidence.curves().size())
            .boxed()
            .max(Comparator.comparingDouble(i -> evidence.largest().values().get(i)))
            .orElseThrow();
    int worstPoint = model.worst();
    LevelOutcome.PointLimit worst = model.points().get(worstPoint);
    double curveGrams = curveGrams(model);
    double modelGrams = Math.max(curveGrams, worst.withinGrams());
    double freeGrams = evidence.largest().values().get(worstRun);
    double bound = Math.max(modelGrams, freeGrams) + evidence.guardGrams();
    double safest = roundedOutward(bound);
    OptionalDouble theseLots = withinTheseLots(evidence, freeGrams);
    GuardBands guards = evidence.guards();
    FigureExplanation explanation =
        new FigureExplanation(study, evidence.level(), guards, curveGrams, worst);
    int disjoint = kits.disjoint().size();
    return new LevelOutcome.Figure(
        safest,
        bound,
        safest / (1000 * study.kit().capacityKilograms()),
        modelGrams,
        freeGrams,
        DistributionFree.confidenceOfExtreme(disjoint, study.claim().content()),
        DistributionFree.contentOfExtreme(disjoint, study.claim().confidence()),
        kits.first().size(),
        disjoint,
        guards.benchGrams(),
        guards.buyerGrams(),
        theseLots,
        model.points(),
        worstPoint,
        explanation.tree(
            safest,
            bound,
            modelGrams,
            evidence.curves().get(worstRun),
            run(evidence.curves().get(worstRun))),
        remarks(kits, evidence.plan(), safest, theseLots));
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

  private MeasuredValues largestErrors(List<ErrorCurve> curves) {
    return values(curves, curves.stream().map(ErrorCurve::largestGrams).toList());
  }

  private MeasuredValues values(List<ErrorCurve> curves, List<Double> grams) {
    return new MeasuredValues(
        "error",
        "Error of reading",
        "g",
        grams,
        spread.labels(curves.stream().map(this::run).toList()));
  }

  private LoadRun run(ErrorCurve curve) {
    return Objects.requireNonNull(runs.get(curve.run()));
  }

  /** Points of the run that are not fixed to zero by taring or by the calibration. */
  private static List<Integer> movingPoints(List<ErrorCurve> curves) {
    return IntStream.range(0, curves.get(0).points().size())
        .filter(
            i ->
                curves.stream()
                    .anyMatch(c -> Math.abs(c.points().get(i).errorGrams()) > FIXED_POINT_GRAMS))
        .boxed()
        .toList();
  }

  /**
   * The figure for these lots alone: the model without lots, when they are too few to bound how
   * lots differ.
   */
  private OptionalDouble withinTheseLots(Evidence evidence, double freeGrams) {
    if (!evidence.plan().hasFewLots(evidence.largest())) {
      return OptionalDouble.empty();
    }
    FactorPlan these = evidence.plan().withoutLots();
    ErrorModel.Outcome outcome =
        model(evidence.curves(), evidence.points(), evidence.largest(), these);
    if (!(outcome instanceof ErrorModel.Outcome.Fitted fitted)) {
      return OptionalDouble.empty();
    }
    ErrorModel model = fitted.model();
    double modelGrams =
        Math.max(curveGrams(model), model.points().get(model.worst()).withinGrams());
    return OptionalDouble.of(
        roundedOutward(Math.max(freeGrams, modelGrams) + evidence.guardGrams()));
  }

  private List<String> remarks(
      TestedKits kits, FactorPlan plan, double safest, OptionalDouble theseLots) {
    List<String> remarks = new ArrayList<>();
    double content = study.claim().content();
    double confidence = study.claim().confidence();
    int n = kits.disjoint().size();
    double supported = DistributionFree.contentOfExtreme(n, confidence);
    if (content > CONTENT_WITHOUT_NORMALITY && supported < content) {
      remarks.add(
          String.format(
              java.util.Locale.ROOT,
              "The figure for %.4g %% of kits holds if the spread is normal. The tested kits alone support %.3g %%.",
              100 * content,
              100 * supported));
    } else if (n < KITS_FOR_DISTRIBUTION_FREE) {
      remarks.add(
          String.format(
              java.util.Locale.ROOT,
              "%d kits that share no unit are few: without a model they support %.3g %% of kits, so the figure leans on the normal shape.",
              n,
              100 * supported));
    }
    theseLots.ifPresent(
        grams ->
            remarks.add(
                String.format(
                    java.util.Locale.ROOT,
                    "Few lots cannot bound how lots differ: the figure is %.2g times as wide because of it. For these lots alone it would be ±%s g.",
                    safest / grams,
                    Numbers.plain(grams))));
    remarks.addAll(plan.notes());
    return remarks;
  }
}
