package lotproof.statistics.components;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import lotproof.statistics.Checks;
import lotproof.statistics.components.ComponentsFit.FitRecord;
import lotproof.statistics.components.FitOutcome.NotEstimable;
import lotproof.statistics.components.VarianceMaximizer.Maximum;
import lotproof.statistics.linear.SmallMatrix;

/**
 * Fits variance components by restricted maximum likelihood.
 *
 * <p>Model: value = mean (+ known influences) + one random effect for each factor + residual, all
 * effects independent and normal. Factors may be crossed, nested or both, unbalanced, and one of
 * them may be the pair of two others.
 *
 * <p>Algorithm: observations of identical levels are replaced by their mean and the pooled
 * within-group sum of squares (exact); the variances themselves are the parameters; {@link
 * VarianceMaximizer} climbs from one scoring step and, in studies of up to 80 rows, from equal
 * shares and from one start for each component that holds 90 %; the highest maximum is kept. Values
 * are centred and scaled first, so the unit of measure does not matter.
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

  /** Least share of the total in the first start. */
  private static final double SMALLEST_START = 0.02;

  private static final double LAST_STEP = 1e-6;

  /** Where a fit is compared with another one: variances to 1e-6, figures to more. */
  private static final double LAST_STEP_BESIDE = 1e-4;

  /** Share of the total at which a residual that stood at zero starts again. */
  private static final double WARM_RESIDUAL = 1e-3;

  private ComponentsFitter() {}

  /** The components of the observations, or the reason why they cannot be told. */
  public static FitOutcome fit(Observations observations, FitOptions options) {
    CellMeans data = observations.cells();
    Optional<NotEstimable> problem = Estimability.before(data);
    if (problem.isPresent()) {
      return problem.get();
    }
    LikelihoodSurface surface = new LikelihoodSurface(data);
    if (options.start().isPresent()) {
      return fit(surface, options.start().get());
    }
    Climb climb = new Climb(starts(surface), data.rows > SMALL_STUDY_ROWS, false, 0);
    if (!Double.isFinite(surface.logLikelihood(climb.starts().get(0)))) {
      return new NotEstimable(
          "The known influences repeat each other, so their effects cannot be told apart.");
    }
    if (!data.isOfKnownStructure()) {
      problem =
          Estimability.information(observations.components(), surface.derivatives().expected());
    }
    return problem.isPresent() ? problem.get() : climbAll(surface, climb);
  }

  /**
   * What a layout of observations would estimate if it hit assumed variances and an assumed mean
   * exactly: a fit whose information depends on the layout and the variances alone, before any
   * value is measured. Its relative standard errors are good to a few per cent of themselves from
   * about 20 units on, optimistic below; limits for a future unit are close to their median over
   * studies.
   *
   * <p>Source: Searle, Casella and McCulloch (1992), Variance Components, section 6.6 (from
   * memory).
   *
   * @param size number of observations, 2 or more
   * @param factors random factors, each with a level for each observation
   * @param variances assumed variances, in the order of the factors, the residual last; each 0 or
   *     above, the residual above 0
   * @param mean assumed mean
   */
  public static FitOutcome assumed(
      int size, List<RandomFactor> factors, double[] variances, double mean) {
    if (variances.length != factors.size() + 1) {
      throw new IllegalArgumentException(
          "variances must be "
              + (factors.size() + 1)
              + ", one for each factor and the residual, were "
              + variances.length);
    }
    for (double variance : variances) {
      Checks.notNegative(variance, "variances");
    }
    Checks.positive(variances[factors.size()], "the residual variance");
    // values that vary, of the size of the total spread; no result depends on them
    double sd = Math.sqrt(Arrays.stream(variances).sum());
    double[] values = new double[size];
    Arrays.setAll(values, i -> sd * Math.sin(1.0 + 2.4 * i));
    CellMeans data = new Observations(values, factors).cells();
    Optional<NotEstimable> problem = Estimability.before(data);
    if (problem.isPresent()) {
      return problem.get();
    }
    double unit = data.scale * data.scale;
    LikelihoodSurface surface = new LikelihoodSurface(data);
    double[] scaled = Arrays.stream(variances).map(variance -> variance / unit).toArray();
    double[] scaledMean = {(mean - data.shift) / data.scale};
    FitRecord record =
        new FitRecord(List.of(), List.of(), 0, 1, 0, "assumed, not fitted", true, Set.of());
    ComponentsFit fit = new ComponentsFit(surface, scaled, Optional.of(scaledMean), record);
    return Estimability.information(fit.components(), fit.scaledInformation())
        .or(() -> Estimability.fitted(fit))
        .<FitOutcome>map(why -> why)
        .orElse(fit);
  }

  private static FitOutcome fit(LikelihoodSurface surface, FitOptions.WarmStart start) {
    CellMeans data = surface.data();
    if (start.variances().length != data.components()) {
      throw new IllegalArgumentException(
          "start must hold " + data.components() + " variances, had " + start.variances().length);
    }
    double unit = data.scale * data.scale;
    double[] from = withResidual(Arrays.stream(start.variances()).map(v -> v / unit).toArray());
    return climbAll(surface, new Climb(List.of(from), true, true, start.enough()));
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
   * @param firstIsEnough whether other starts are for the case that the first leads nowhere
   * @param nearby whether the top is known to be near
   * @param enough see {@link FitOptions.WarmStart}
   */
  private record Climb(
      List<double[]> starts, boolean firstIsEnough, boolean nearby, double enough) {
    double lastStep() {
      return nearby ? LAST_STEP_BESIDE : LAST_STEP;
    }

    int mostEvaluations() {
      return nearby
          ? VarianceMaximizer.EVALUATIONS_FROM_NEARBY
          : VarianceMaximizer.EVALUATIONS_FROM_AFAR;
    }
  }

  private static FitOutcome climbAll(LikelihoodSurface surface, Climb climb) {
    VarianceMaximizer ascent =
        new VarianceMaximizer(
            surface,
            new boolean[surface.data().components()],
            climb.lastStep(),
            climb.enough(),
            climb.mostEvaluations());
    Maximum best = null;
    double[] bestStart = climb.starts().get(0);
    int tried = 0;
    for (double[] start : climb.starts()) {
      if (climb.firstIsEnough() && best != null && best.unboundedness() == 0) {
        break;
      }
      tried++;
      Maximum known = best;
      Optional<Maximum> maximum =
          ascent.climb(
              start,
              (theta, value, slopes) -> known != null && leadsTo(known, theta, value, slopes));
      if (maximum.isPresent() && (best == null || higher(maximum.get(), best))) {
        best = maximum.get();
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
              + " evaluations of the likelihood, as where single readings are far from all"
              + " others.");
    }
    FitRecord record = record(surface, best, bestStart, tried);
    ComponentsFit fit = new ComponentsFit(surface, best.theta(), Optional.empty(), record);
    return Estimability.fitted(fit).<FitOutcome>map(why -> why).orElse(fit);
  }

  /** A maximum with a bounded likelihood goes before one without, whatever the value there. */
  private static boolean higher(Maximum one, Maximum other) {
    if ((one.unboundedness() > 0) != (other.unboundedness() > 0)) {
      return other.unboundedness() > 0;
    }
    return one.logLikelihood() > other.logLikelihood() + 1e-9;
  }

  /**
   * True when a climb has come so close to a known maximum that it can only end there: same side of
   * the zero bounds, the likelihood curved downward, and within a tenth of a standard error.
   */
  private static boolean leadsTo(
      Maximum known, double[] theta, double value, Likelihood.Derivatives slopes) {
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

  private static List<double[]> starts(LikelihoodSurface surface) {
    CellMeans data = surface.data();
    int count = data.components();
    List<double[]> starts = new ArrayList<>();
    starts.add(stepFromResidual(surface));
    if (count == 1) {
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

  /**
   * One scoring step from the residual alone (MINQUE), with every component high enough to move; by
   * the average information where the expected one takes long.
   */
  private static double[] stepFromResidual(LikelihoodSurface surface) {
    double[] start = new double[surface.data().components()];
    start[start.length - 1] = 1;
    if (Double.isFinite(surface.logLikelihood(start))) {
      Likelihood.Derivatives slopes = surface.derivatives();
      double[][] information =
          surface.probed() ? slopes.average() : surface.data().startInformation(slopes::expected);
      SmallMatrix.solve(information, slopes.score())
          .ifPresent(step -> Arrays.setAll(start, k -> start[k] + step[k]));
    }
    double total = Arrays.stream(start).filter(variance -> variance > 0).sum();
    double floor = SMALLEST_START * (total > 0 && Double.isFinite(total) ? total : 1);
    return Arrays.stream(start).map(variance -> variance > floor ? variance : floor).toArray();
  }

  private static FitRecord record(
      LikelihoodSurface surface, Maximum maximum, double[] start, int starts) {
    CellMeans data = surface.data();
    double unit = data.scale * data.scale;
    List<Component> components = data.observations.components();
    Set<String> boundary = new LinkedHashSet<>();
    for (int k = 0; k < components.size(); k++) {
      boolean residual = k == components.size() - 1;
      if (maximum.theta()[k] == 0 || (residual && maximum.atToken())) {
        boundary.add(components.get(k).name());
      }
    }
    return new FitRecord(
        Arrays.stream(start).mapToObj(v -> v * unit).toList(),
        Arrays.stream(maximum.theta()).mapToObj(v -> v * unit).toList(),
        maximum.iterations(),
        surface.evaluations(),
        starts,
        maximum.reason(),
        maximum.converged(),
        boundary);
  }
}
