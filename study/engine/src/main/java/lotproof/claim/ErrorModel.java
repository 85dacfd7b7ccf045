package lotproof.claim;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.stream.IntStream;
import lotproof.reduce.ErrorCurve;
import lotproof.spread.FactorPlan;
import lotproof.spread.MeasuredValues;
import lotproof.spread.Role;
import lotproof.statistics.components.ComponentWeights;
import lotproof.statistics.components.ComponentsFit;
import lotproof.statistics.components.ComponentsFitter;
import lotproof.statistics.components.Criterion;
import lotproof.statistics.components.CurveComponents;
import lotproof.statistics.components.CurveOutcome;
import lotproof.statistics.components.FitOutcome;
import lotproof.statistics.components.FutureCurves;
import lotproof.statistics.components.FutureUnitLimits;
import lotproof.statistics.components.FutureUnitLimits.Part;
import lotproof.statistics.components.NotEstimable;

/**
 * The mixed model of error curves in the claim's form: a fit at each point of the run, the
 * covariances over the points together, and curves drawn from them. Errors are divided by the
 * form's weight at the load, so that every bound is the figure itself.
 */
final class ErrorModel {
  private final JudgedCurves judged;
  private final List<List<Part>> parts;
  private final double[] shifts;
  private final List<Role> roles;
  private final String residualTitle;
  private final CurveComponents curves;
  private final FutureCurves draws;

  private ErrorModel(
      JudgedCurves judged,
      List<List<Part>> parts,
      double[] shifts,
      List<Role> roles,
      String residualTitle,
      CurveComponents curves,
      FutureCurves draws) {
    this.judged = judged;
    this.parts = parts;
    this.shifts = shifts;
    this.roles = roles;
    this.residualTitle = residualTitle;
    this.curves = curves;
    this.draws = draws;
  }

  /** A model, or the reason why there is none. */
  sealed interface Outcome {
    /** There is a model. */
    record Fitted(ErrorModel model) implements Outcome {}

    /** There is none. */
    record NotFitted(String reason) implements Outcome {}
  }

  /**
   * How a model is made.
   *
   * @param confidence of the inflation that {@link CurveComponents} keeps
   * @param draws simulated kits
   * @param seed their seed
   */
  record Settings(double confidence, int draws, long seed) {}

  /**
   * Fits the model.
   *
   * @param judged the curves
   * @param labelled any values with the labels of the curves' runs
   * @param plan the factors
   * @param weights which components the claim's subject has
   * @param start a model of nearly the same runs to start from
   */
  static Outcome fit(
      JudgedCurves judged,
      MeasuredValues labelled,
      FactorPlan plan,
      ComponentWeights weights,
      Settings settings,
      Optional<ErrorModel> start) {
    List<ComponentsFit> fits = new ArrayList<>();
    for (int p = 0; p < judged.size(); p++) {
      Optional<double[]> from =
          start.isPresent() ? Optional.of(start.get().variances(p)) : Optional.empty();
      FitOutcome fitted = fit(labelled.withValues(judged.at(p)), plan, from);
      if (!(fitted instanceof ComponentsFit fit)) {
        return new Outcome.NotFitted(((NotEstimable) fitted).reason());
      }
      fits.add(fit);
    }
    CurveOutcome together =
        CurveComponents.ofFits(
            judged.matrix(), fits, plan.finestFirst(), weights, settings.confidence());
    if (!(together instanceof CurveComponents curves)) {
      return new Outcome.NotFitted(((NotEstimable) together).reason());
    }
    List<Role> roles = new ArrayList<>(plan.roles());
    roles.add(Role.RESIDUAL);
    List<List<Part>> parts =
        fits.stream().map(fit -> List.of(new Part(fit, plan.finestFirst(), weights))).toList();
    return new Outcome.Fitted(
        new ErrorModel(
            judged,
            parts,
            new double[judged.size()],
            roles,
            plan.residualTitle(),
            curves,
            curves.draw(settings.draws(), settings.seed())));
  }

  static FitOutcome fit(MeasuredValues values, FactorPlan plan, Optional<double[]> from) {
    return from.isPresent()
        ? ComponentsFitter.fitFrom(plan.observations(values), Criterion.REML, from.get())
        : ComponentsFitter.fit(plan.observations(values), Criterion.REML);
  }

  /** Variances of the fit at a point, for a warm start. */
  double[] variances(int point) {
    return parts.get(point).get(0).fit().variances();
  }

  JudgedCurves judged() {
    return judged;
  }

  /** Limits of a future kit at one point. */
  FutureUnitLimits limits(int point, double content, double confidence) {
    return FutureUnitLimits.ofSum(parts.get(point), shifts[point], content, confidence);
  }

  /** The bound at one point: about zero, or the upper limit where one side counts. */
  double boundAt(int point, double content, double confidence) {
    return counted(limits(point, content, confidence));
  }

  /** The same with other weights, and with the mean as it is or taken as zero. */
  double boundAt(
      int point, ComponentWeights weights, boolean withMean, double content, double confidence) {
    List<Part> changed =
        parts.get(point).stream()
            .map(part -> new Part(part.fit(), part.finestFirst(), weights))
            .toList();
    double mean = parts.get(point).stream().mapToDouble(part -> part.fit().mean()).sum();
    double shift = withMean ? shifts[point] : -mean;
    return counted(FutureUnitLimits.ofSum(changed, shift, content, confidence));
  }

  private double counted(FutureUnitLimits limits) {
    return judged.twoSided() ? limits.symmetricHalfWidth() : Math.max(0, limits.upper());
  }

  ComponentWeights weights() {
    return parts.get(0).get(0).weights();
  }

  /** Index of the point with the widest bound. */
  int worst(double content, double confidence) {
    int worst = 0;
    double widest = -1;
    for (int p = 0; p < parts.size(); p++) {
      double bound = boundAt(p, content, confidence);
      if (bound > widest) {
        widest = bound;
        worst = p;
      }
    }
    return worst;
  }

  /** Largest error of each drawn kit over its points, ascending, widened for a confidence. */
  double[] drawnLargest(double confidence) {
    return draws.largest(CurveComponents.inflation(parts, confidence), judged.twoSided());
  }

  /** Largest error of each drawn kit as estimated, without widening. */
  double[] drawnAsEstimated() {
    return draws.largest(1, judged.twoSided());
  }

  /** Bound for a future kit over all points together, by simulation. */
  double curveGrams(double content, double confidence) {
    return Math.max(0, FutureCurves.quantile(drawnLargest(confidence), content));
  }

  /** The larger of the bounds at single points and the bound over all points together. */
  double boundGrams(double content, double confidence, double[] drawn) {
    double bound = Math.max(0, FutureCurves.quantile(drawn, content));
    for (int p = 0; p < parts.size(); p++) {
      bound = Math.max(bound, boundAt(p, content, confidence));
    }
    return bound;
  }

  /** Standard deviation of each source at a point, in grams at the load, coarsest first. */
  List<LevelOutcome.Contribution> contributions(int point) {
    double weight = judged.weight(point);
    List<LevelOutcome.Contribution> contributions = new ArrayList<>();
    double[] sds = parts.get(point).get(0).fit().standardDeviations();
    for (int k = 0; k < roles.size(); k++) {
      Role role = roles.get(k);
      String title = role == Role.RESIDUAL ? residualTitle : role.title();
      contributions.add(new LevelOutcome.Contribution(role, title, weight * sds[k]));
    }
    return contributions;
  }

  /** Limits load by load, in grams at the load. */
  List<LevelOutcome.PointLimit> points(double content, double confidence) {
    return IntStream.range(0, parts.size()).mapToObj(p -> point(p, content, confidence)).toList();
  }

  private LevelOutcome.PointLimit point(int p, double content, double confidence) {
    ErrorCurve.Point where = judged.place(p);
    FutureUnitLimits limits = limits(p, content, confidence);
    double weight = judged.weight(p);
    double mean = judged.sign() * weight * limits.mean();
    double variance = 0;
    for (Part part : parts.get(p)) {
      double[] variances = part.fit().variances();
      List<String> names = part.fit().componentNames();
      for (int k = 0; k < variances.length; k++) {
        variance += part.weights().unit().getOrDefault(names.get(k), 1.0) * variances[k];
      }
    }
    return new LevelOutcome.PointLimit(
        where.loadKilograms(),
        where.direction(),
        mean,
        weight * Math.sqrt(variance),
        weight * counted(limits),
        counted(limits),
        weight * Math.max(0, judged.largestAt(p)),
        contributions(p));
  }

  /** The components over all points together. */
  CurveComponents curves() {
    return curves;
  }

  List<Role> roles() {
    return roles;
  }

  String residualTitle() {
    return residualTitle;
  }

  List<Part> partsAt(int point) {
    return parts.get(point);
  }
}
