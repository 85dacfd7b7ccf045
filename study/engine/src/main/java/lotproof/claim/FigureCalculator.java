package lotproof.claim;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.stream.IntStream;
import lotproof.reduce.ErrorCurve;
import lotproof.spread.FactorPlan;
import lotproof.spread.MeasuredValues;
import lotproof.spread.ModelLimits;
import lotproof.spread.Role;
import lotproof.spread.Spread;
import lotproof.spread.SpreadOptions;
import lotproof.spread.StudySpread;
import lotproof.spread.TestedKits;
import lotproof.statistics.components.CurveComponents;
import lotproof.statistics.components.CurveOutcome;
import lotproof.statistics.components.NotEstimable;
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
  private final StudySpread spread;
  private final Spread limits;
  private final int draws;

  FigureCalculator(Study study, int draws) {
    ClaimRequest claim = study.claim();
    this.study = study;
    this.spread = new StudySpread(study);
    this.limits =
        new Spread(new SpreadOptions(claim.content(), claim.confidence(), Optional.empty()));
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
    List<LevelOutcome.PointLimit> pointLimits = pointLimits(curves, points, plan);
    if (pointLimits.isEmpty()) {
      return new LevelOutcome.NoFigure(whyNot(largest, plan));
    }
    CurveOutcome model = curveModel(curves, points, plan);
    if (model instanceof NotEstimable no) {
      return new LevelOutcome.NoFigure(no.reason());
    }
    double curveGrams = boundGrams((CurveComponents) model);
    return figure(level, curves, guards.get(), largest, plan, points, pointLimits, curveGrams);
  }

  private LevelOutcome.Figure figure(
      CalibrationLevel level,
      List<ErrorCurve> curves,
      GuardBands guards,
      MeasuredValues largest,
      FactorPlan plan,
      List<Integer> points,
      List<LevelOutcome.PointLimit> pointLimits,
      double curveGrams) {
    TestedKits kits = TestedKits.of(largest);
    int worstPoint =
        IntStream.range(0, pointLimits.size())
            .boxed()
            .max(Comparator.comparingDouble(i -> pointLimits.get(i).withinGrams()))
            .orElseThrow();
    int worstKit =
        kits.first().stream()
            .max(Comparator.comparingDouble(i -> largest.values().get(i)))
            .orElseThrow();
    double model = Math.max(curveGrams, pointLimits.get(worstPoint).withinGrams());
    double free = largest.values().get(worstKit);
    double bound = Math.max(model, free) + guards.benchGrams() + guards.buyerGrams();
    double safest = roundedOutward(bound);
    OptionalDouble theseLots = withinTheseLots(curves, points, largest, plan, free, guards);
    FigureExplanation explanation =
        new FigureExplanation(study, level, guards, curveGrams, pointLimits.get(worstPoint));
    return new LevelOutcome.Figure(
        safest,
        bound,
        safest / (1000 * study.kit().capacityKilograms()),
        model,
        free,
        DistributionFree.confidenceOfExtreme(kits.disjoint().size(), study.claim().content()),
        DistributionFree.contentOfExtreme(kits.disjoint().size(), study.claim().confidence()),
        kits.first().size(),
        kits.disjoint().size(),
        guards.benchGrams(),
        guards.buyerGrams(),
        theseLots,
        pointLimits,
        worstPoint,
        explanation.tree(safest, bound, model, curves.get(worstKit)),
        remarks(kits, plan, safest, theseLots));
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
        spread.labels(curves.stream().map(c -> c.run().run()).toList()));
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

  private static List<Double> errorsAt(List<ErrorCurve> curves, int point) {
    return curves.stream().map(c -> c.points().get(point).errorGrams()).toList();
  }

  private List<LevelOutcome.PointLimit> pointLimits(
      List<ErrorCurve> curves, List<Integer> points, FactorPlan plan) {
    List<LevelOutcome.PointLimit> result = new ArrayList<>();
    for (int point : points) {
      List<Double> errors = errorsAt(curves, point);
      Optional<ModelLimits> model = limits.limits(values(curves, errors), plan);
      if (model.isEmpty()) {
        return List.of();
      }
      ErrorCurve.Point where = curves.get(0).points().get(point);
      result.add(
          new LevelOutcome.PointLimit(
              where.loadKilograms(),
              where.direction(),
              model.get().mean(),
              model.get().limits().totalStandardDeviation(),
              model.get().limits().aboutZero(),
              errors.stream().mapToDouble(Math::abs).max().orElseThrow(),
              contributions(plan, model.get())));
    }
    return result;
  }

  private static List<LevelOutcome.Contribution> contributions(FactorPlan plan, ModelLimits model) {
    List<Role> roles = new ArrayList<>(plan.roles());
    roles.add(Role.RESIDUAL);
    return IntStream.range(0, roles.size())
        .mapToObj(
            k ->
                new LevelOutcome.Contribution(
                    roles.get(k),
                    roles.get(k) == Role.RESIDUAL ? plan.residualTitle() : roles.get(k).title(),
                    model.standardDeviations().get(k)))
        .toList();
  }

  private String whyNot(MeasuredValues largest, FactorPlan plan) {
    return lotproof.statistics.components.ComponentsFitter.fit(
                plan.observations(largest), lotproof.statistics.components.Criterion.REML)
            instanceof NotEstimable no
        ? no.reason()
        : "The errors at one of the loads do not vary between kits.";
  }

  private CurveOutcome curveModel(List<ErrorCurve> curves, List<Integer> points, FactorPlan plan) {
    double[][] grams =
        curves.stream()
            .map(c -> points.stream().mapToDouble(p -> c.points().get(p).errorGrams()).toArray())
            .toArray(double[][]::new);
    MeasuredValues labelled = largestErrors(curves);
    return CurveComponents.estimate(
        grams, plan.factors(labelled), plan.finestFirst(), Set.of(), study.claim().confidence());
  }

  private double boundGrams(CurveComponents model) {
    return model.boundOfLargest(study.claim().content(), draws, study.seed());
  }

  private OptionalDouble withinTheseLots(
      List<ErrorCurve> curves,
      List<Integer> points,
      MeasuredValues largest,
      FactorPlan plan,
      double freeGrams,
      GuardBands guards) {
    if (!plan.hasFewLots(largest)) {
      return OptionalDouble.empty();
    }
    FactorPlan these = plan.withoutLots();
    double pointwise =
        pointLimits(curves, points, these).stream()
            .mapToDouble(LevelOutcome.PointLimit::withinGrams)
            .max()
            .orElse(Double.POSITIVE_INFINITY);
    if (!(curveModel(curves, points, these) instanceof CurveComponents model)
        || !Double.isFinite(pointwise)) {
      return OptionalDouble.empty();
    }
    double bound = Math.max(freeGrams, Math.max(boundGrams(model), pointwise));
    return OptionalDouble.of(roundedOutward(bound + guards.benchGrams() + guards.buyerGrams()));
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
