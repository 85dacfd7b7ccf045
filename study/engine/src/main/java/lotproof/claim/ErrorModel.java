package lotproof.claim;

import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import java.util.stream.IntStream;
import lotproof.reduce.ErrorCurve;
import lotproof.spread.FactorPlan;
import lotproof.spread.MeasuredValues;
import lotproof.spread.Role;
import lotproof.spread.Spread;
import lotproof.spread.ToleranceLimits;
import lotproof.statistics.components.ComponentsFit;
import lotproof.statistics.components.ComponentsFitter;
import lotproof.statistics.components.Criterion;
import lotproof.statistics.components.CurveComponents;
import lotproof.statistics.components.CurveOutcome;
import lotproof.statistics.components.FitOutcome;
import lotproof.statistics.components.NotEstimable;

/**
 * The mixed model of error curves: a fit at each point of the run, and the covariances over the
 * points together.
 *
 * @param points limits at each point, in the order of the run
 * @param curves the model over all points together
 */
record ErrorModel(List<LevelOutcome.PointLimit> points, CurveComponents curves) {

  /** A model, or the reason why there is none. */
  sealed interface Outcome {
    /** There is a model. */
    record Fitted(ErrorModel model) implements Outcome {}

    /** There is none. */
    record NotFitted(String reason) implements Outcome {}
  }

  /**
   * Fits the model.
   *
   * @param curves error curves, all with the same points
   * @param indices points to model, by position in the run; those that calibration fixes are left
   *     out
   * @param labelled any values with the labels of the curves' runs
   * @param plan the factors
   * @param spread how limits are computed
   */
  static Outcome fit(
      List<ErrorCurve> curves,
      List<Integer> indices,
      MeasuredValues labelled,
      FactorPlan plan,
      Spread spread,
      double confidence) {
    List<LevelOutcome.PointLimit> points = new ArrayList<>();
    List<ComponentsFit> fits = new ArrayList<>();
    for (int index : indices) {
      List<Double> errors = curves.stream().map(c -> c.points().get(index).errorGrams()).toList();
      MeasuredValues values = labelled.withValues(errors);
      FitOutcome fitted = ComponentsFitter.fit(plan.observations(values), Criterion.REML);
      if (!(fitted instanceof ComponentsFit fit)) {
        return new Outcome.NotFitted(((NotEstimable) fitted).reason());
      }
      ToleranceLimits limits = spread.limits(plan, fit);
      points.add(point(curves.get(0).points().get(index), errors, plan, fit, limits));
      fits.add(fit);
    }
    double[][] grams =
        curves.stream()
            .map(c -> indices.stream().mapToDouble(p -> c.points().get(p).errorGrams()).toArray())
            .toArray(double[][]::new);
    CurveOutcome together =
        CurveComponents.ofFits(grams, fits, plan.finestFirst(), Set.of(), confidence);
    return together instanceof CurveComponents model
        ? new Outcome.Fitted(new ErrorModel(List.copyOf(points), model))
        : new Outcome.NotFitted(((NotEstimable) together).reason());
  }

  /** Index of the point with the widest limit. */
  int worst() {
    return IntStream.range(0, points.size())
        .reduce(
            0,
            (best, i) -> points.get(i).withinGrams() > points.get(best).withinGrams() ? i : best);
  }

  /** Bound for a future kit over all points together, by simulation. */
  double curveGrams(double content, int draws, long seed) {
    return curves.boundOfLargest(content, draws, seed);
  }

  private static LevelOutcome.PointLimit point(
      ErrorCurve.Point where,
      List<Double> errors,
      FactorPlan plan,
      ComponentsFit fit,
      ToleranceLimits limits) {
    List<Role> roles = new ArrayList<>(plan.roles());
    roles.add(Role.RESIDUAL);
    double[] sds = fit.standardDeviations();
    List<LevelOutcome.Contribution> contributions =
        IntStream.range(0, roles.size())
            .mapToObj(
                k ->
                    new LevelOutcome.Contribution(
                        roles.get(k),
                        roles.get(k) == Role.RESIDUAL ? plan.residualTitle() : roles.get(k).title(),
                        sds[k]))
            .toList();
    return new LevelOutcome.PointLimit(
        where.loadKilograms(),
        where.direction(),
        fit.mean(),
        limits.totalStandardDeviation(),
        limits.aboutZero(),
        errors.stream().mapToDouble(Math::abs).max().orElseThrow(),
        contributions);
  }
}
