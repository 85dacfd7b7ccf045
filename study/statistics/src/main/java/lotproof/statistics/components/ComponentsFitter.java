package lotproof.statistics.components;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;

/**
 * Fits variance components by restricted or full maximum likelihood.
 *
 * <p>Model: value = mean (+ known influences) + one random effect for each factor + residual, all
 * effects independent and normal. Factors may be crossed, nested or both, unbalanced, and one of
 * them may be the pair of two others.
 *
 * <p>Algorithm: observations of identical levels are replaced by their mean and the pooled
 * within-group sum of squares (exact); the variances themselves are the parameters; {@link
 * ProjectedAscent} climbs from several starts, and the highest summit is kept: moment estimates,
 * equal shares, and in studies of up to 80 rows one start for each component that holds 90 %; above
 * 4000 rows the moment estimates alone. Values are centred and scaled first, so the unit of measure
 * does not matter.
 *
 * <p>Edge cases: a component whose likelihood falls from zero is estimated as exactly zero and
 * stays in the model. Data that cannot separate the components give {@link NotEstimable}.
 *
 * <p>Sources: Patterson and Thompson (1971), Biometrika 58; Searle, Casella and McCulloch (1992),
 * Variance Components, chapters 6 and 8 (from memory).
 */
public final class ComponentsFitter {
  /** Up to this many rows second tops were seen in simulations (0.7 to 2.3 % of studies). */
  private static final int SMALL_STUDY_ROWS = 80;

  /** Above this many rows the moment start is close to the only top. */
  private static final int LARGE_STUDY_ROWS = 4000;

  private static final double LAST_STEP = 1e-6;

  /** Where a fit is compared with another one: variances to 1e-6, figures to more. */
  private static final double LAST_STEP_BESIDE = 1e-4;

  /** Share of the total at which a residual that stood at zero starts again. */
  private static final double WARM_RESIDUAL = 1e-3;

  private ComponentsFitter() {}

  public static FitOutcome fit(Observations observations, Criterion criterion) {
    ReducedRows data = ReducedRows.of(observations);
    Optional<NotEstimable> problem = Estimability.before(data);
    if (problem.isPresent()) {
      return problem.get();
    }
    LikelihoodSurface surface = new LikelihoodSurface(data, criterion);
    List<double[]> starts = starts(data);
    if (!Double.isFinite(surface.logLikelihood(starts.get(0)))) {
      return new NotEstimable(
          "The known influences repeat each other, so their effects cannot be told apart.");
    }
    problem =
        Estimability.information(
            ComponentsFit.names(observations), surface.derivatives().expected());
    if (problem.isPresent()) {
      return problem.get();
    }
    return climbAll(surface, new Climb(criterion, starts, unknown(data), false, LAST_STEP));
  }

  /**
   * Fits other values on the structure of an earlier fit, by the same criterion: as {@link #fit} of
   * the same observations, without preparing the structure again and, beyond small studies, from
   * the moment start alone. Made for simulation.
   *
   * @param values one finite value for each observation
   */
  public static FitOutcome refit(ComponentsFit earlier, double[] values) {
    ReducedRows data = earlier.data().withValues(values);
    Optional<NotEstimable> problem = Estimability.values(data);
    if (problem.isPresent()) {
      return problem.get();
    }
    LikelihoodSurface surface = new LikelihoodSurface(data, earlier.criterion());
    boolean firstIsEnough = data.rows > SMALL_STUDY_ROWS;
    return climbAll(
        surface,
        new Climb(earlier.criterion(), starts(data), unknown(data), firstIsEnough, LAST_STEP));
  }

  /**
   * Fits observations by the criterion of a fit of nearly the same ones, from variances near those
   * to be found alone: much faster than {@link #fit}, and the same estimate to about 1e-6 of each
   * variance unless the likelihood has more than one top.
   *
   * @param start a residual of 0 starts small, since nothing can lift it off zero
   */
  public static FitOutcome fitFrom(Observations observations, NearbyFit start) {
    ReducedRows data = ReducedRows.of(observations);
    Optional<NotEstimable> problem = Estimability.before(data);
    if (problem.isPresent()) {
      return problem.get();
    }
    return climbFrom(data, start);
  }

  /**
   * As {@link #fitFrom}, on the structure of an earlier fit.
   *
   * @param values one finite value for each observation
   */
  public static FitOutcome refitFrom(ComponentsFit earlier, double[] values, NearbyFit start) {
    ReducedRows data = earlier.data().withValues(values);
    Optional<NotEstimable> problem = Estimability.values(data);
    if (problem.isPresent()) {
      return problem.get();
    }
    return climbFrom(data, start);
  }

  private static FitOutcome climbFrom(ReducedRows data, NearbyFit start) {
    Criterion criterion = start.fit().criterion();
    double[] scaled = scaled(data, start);
    SecantCurvature curvature = SecantCurvature.like(start.fit(), scaled);
    return climbAll(
        new LikelihoodSurface(data, criterion),
        new Climb(criterion, List.of(scaled), curvature, true, LAST_STEP_BESIDE));
  }

  /**
   * Fits other values on the structure of an earlier fit whose shares are likely to be alike, such
   * as errors at the next load: as {@link #fit}, the earlier shares taking the place of equal ones.
   *
   * @param values one finite value for each observation
   */
  public static FitOutcome refitNear(ComponentsFit earlier, double[] values) {
    ReducedRows data = earlier.data().withValues(values);
    Optional<NotEstimable> problem = Estimability.values(data);
    if (problem.isPresent()) {
      return problem.get();
    }
    List<double[]> starts = starts(data);
    SecantCurvature curvature = unknown(data);
    if (starts.size() == 2) {
      double[] alike = withResidual(earlier.scaledVariances());
      starts = List.of(alike, starts.get(0));
      curvature = SecantCurvature.like(earlier, alike);
    }
    return climbAll(
        new LikelihoodSurface(data, earlier.criterion()),
        new Climb(earlier.criterion(), starts, curvature, false, LAST_STEP));
  }

  private static SecantCurvature unknown(ReducedRows data) {
    return new SecantCurvature(data.components());
  }

  /** The variances of a start in the scale of other values. */
  private static double[] scaled(ReducedRows data, NearbyFit start) {
    if (start.variances().length != data.components()) {
      throw new IllegalArgumentException(
          "start must hold " + data.components() + " variances, had " + start.variances().length);
    }
    double unit = data.scale * data.scale;
    return withResidual(
        Arrays.stream(start.variances()).map(variance -> variance / unit).toArray());
  }

  /** A climb lifts a component off zero where the data want it, but not the residual. */
  private static double[] withResidual(double[] start) {
    double[] result = start.clone();
    int residual = result.length - 1;
    if (!(result[residual] > 0)) {
      result[residual] = WARM_RESIDUAL * Arrays.stream(start).sum();
    }
    return result;
  }

  /**
   * How the top is looked for.
   *
   * @param starts at least one
   * @param curvature what is known of it
   * @param firstIsEnough whether other starts are for the case that the first leads nowhere
   * @param lastStep a Newton step shorter than this is the last one
   */
  private record Climb(
      Criterion criterion,
      List<double[]> starts,
      SecantCurvature curvature,
      boolean firstIsEnough,
      double lastStep) {
    int mostEvaluations() {
      return lastStep == LAST_STEP_BESIDE
          ? ProjectedAscent.EVALUATIONS_FROM_NEARBY
          : ProjectedAscent.EVALUATIONS_FROM_AFAR;
    }
  }

  private static FitOutcome climbAll(LikelihoodSurface surface, Climb climb) {
    ProjectedAscent ascent =
        new ProjectedAscent(
            surface,
            new boolean[surface.data().components()],
            climb.lastStep(),
            climb.curvature(),
            climb.mostEvaluations());
    ProjectedAscent.Summit best = null;
    double[] bestStart = climb.starts().get(0);
    int tried = 0;
    for (double[] start : climb.starts()) {
      if (climb.firstIsEnough() && best != null && best.unboundedness() == 0) {
        break;
      }
      tried++;
      ProjectedAscent.Summit known = best;
      Optional<ProjectedAscent.Summit> summit =
          ascent.climb(
              start,
              (theta, value, slopes) -> known != null && leadsTo(known, theta, value, slopes));
      if (summit.isPresent() && (best == null || higher(summit.get(), best))) {
        best = summit.get();
        bestStart = start;
      }
    }
    if (best == null) {
      return new NotEstimable("The likelihood could not be computed from any start.");
    }
    if (best.unboundedness() > 0.75) {
      return new NotEstimable(
          "The units alone reproduce every reading exactly, so the residual spread cannot be told"
              + " from zero; the readings may be rounded too coarsely.");
    }
    if (best.unfinished()) {
      return new NotEstimable(
          "The spreads did not settle within "
              + climb.mostEvaluations()
              + " evaluations of the likelihood, as where single readings are far from all others.");
    }
    FitRecord record = record(surface, best, bestStart, tried);
    ComponentsFit fit = new ComponentsFit(surface, climb.criterion(), best, record);
    return Estimability.fitted(fit).<FitOutcome>map(why -> why).orElse(fit);
  }

  /** A summit with a bounded likelihood goes before one without, whatever the value there. */
  private static boolean higher(ProjectedAscent.Summit one, ProjectedAscent.Summit other) {
    if ((one.unboundedness() > 0) != (other.unboundedness() > 0)) {
      return other.unboundedness() > 0;
    }
    return one.logLikelihood() > other.logLikelihood() + 1e-9;
  }

  /**
   * True when a climb has come so close to a known summit that it can only end there: same side of
   * the zero bounds, the likelihood curved downward, and within a tenth of a standard error.
   */
  private static boolean leadsTo(
      ProjectedAscent.Summit known, double[] theta, double value, Likelihood.Derivatives slopes) {
    if (value > known.logLikelihood()) {
      return false;
    }
    double[] distance = new double[theta.length];
    for (int k = 0; k < theta.length; k++) {
      distance[k] = theta[k] - known.theta()[k];
    }
    return SmallMatrix.quadratic(known.derivatives().average(), distance) < 0.01
        && SmallMatrix.quadratic(slopes.average(), distance) < 0.01;
  }

  private static List<double[]> starts(ReducedRows data) {
    int count = data.components();
    List<double[]> starts = new ArrayList<>();
    starts.add(MomentStart.of(data));
    if (data.rows > LARGE_STUDY_ROWS || count == 1) {
      return starts;
    }
    double[] equal = new double[count];
    Arrays.fill(equal, 1.0 / count);
    starts.add(equal);
    if (data.rows > SMALL_STUDY_ROWS) {
      return starts;
    }
    for (int k = 0; k < count; k++) {
      double[] one = new double[count];
      Arrays.fill(one, 0.1 / (count - 1));
      one[k] = 0.9;
      starts.add(one);
    }
    return starts;
  }

  private static FitRecord record(
      LikelihoodSurface surface, ProjectedAscent.Summit summit, double[] start, int starts) {
    ReducedRows data = surface.data();
    double unit = data.scale * data.scale;
    List<String> names = ComponentsFit.names(data.observations);
    Set<String> boundary = new LinkedHashSet<>();
    for (int k = 0; k < names.size(); k++) {
      boolean residual = k == names.size() - 1;
      if (summit.theta()[k] == 0 || (residual && summit.atToken())) {
        boundary.add(names.get(k));
      }
    }
    return new FitRecord(
        Arrays.stream(start).mapToObj(v -> v * unit).toList(),
        Arrays.stream(summit.theta()).mapToObj(v -> v * unit).toList(),
        summit.iterations(),
        surface.evaluations(),
        starts,
        summit.reason(),
        summit.converged(),
        boundary);
  }
}
