package lotproof.statistics.components;

import java.util.Arrays;
import java.util.Optional;
import java.util.stream.IntStream;
import lotproof.statistics.linear.SmallMatrix;

/**
 * Climbs the log-likelihood over variances at or above zero.
 *
 * <p>Steps I^-1 s with the average information, which costs next to nothing (Gilmour, Thompson and
 * Cullis 1995, Biometrics 51; from memory). Close to the top the observed information takes its
 * place where it is positive definite, which squares the distance with each step but costs as much
 * as four others, and the expected information where it is not. In studies whose traces come from
 * probes only the average information is used. A component leaves the free set while it stands at
 * zero and the likelihood falls from there, or while its step would be negative there. Steps are
 * cut at zero and halved while the likelihood falls.
 */
final class VarianceMaximizer {
  /**
   * Budget of a climb from a start that may be far away. The studies of the tests need up to 34
   * evaluations; values that no model fits would take thousands, and tell nothing then.
   */
  static final int EVALUATIONS_FROM_AFAR = 500;

  /** Budget of a climb from nearby. */
  static final int EVALUATIONS_FROM_NEARBY = 80;

  private static final int MOST_HALVINGS = 40;

  static final String LIMIT_REACHED = "iteration limit reached";

  /** Floor for the residual variance, as a share of the total, where V is singular without it. */
  static final double TOKEN_RESIDUAL = 1e-8;

  /** Squared distance to the top in standard errors from which on Newton steps are taken. */
  private static final double NEAR_DECREMENT = 0.001;

  /** Squared distance to the top in standard errors that a Newton step squares to none. */
  private static final double SMALLEST_DECREMENT = 1e-14;

  /** Squared distance to the top in standard errors below which a failing step is rounding. */
  private static final double FLAT_DECREMENT = 1e-9;

  /** A Newton step shorter than this, relative to each component, is the last one. */
  private final double lastStep;

  /** A squared distance to the top, in standard errors, below this ends the climb. */
  private final double enough;

  private final LikelihoodSurface surface;
  private final boolean[] held;
  private final int mostEvaluations;
  private boolean residualNeeded;

  /**
   * A climb that may begin again.
   *
   * @param held components that stay where they start
   * @param mostEvaluations of the likelihood in one climb
   */
  VarianceMaximizer(
      LikelihoodSurface surface,
      boolean[] held,
      double lastStep,
      double enough,
      int mostEvaluations) {
    this.surface = surface;
    this.held = held.clone();
    this.lastStep = lastStep;
    this.enough = enough;
    this.mostEvaluations = mostEvaluations;
  }

  /** Says whether a climb that has come to a point can be given up. */
  interface GiveUp {
    boolean at(double[] theta, double logLikelihood, Likelihood.Derivatives derivatives);
  }

  /** What a step rests on. */
  private enum Curvature {
    /** Leads uphill from anywhere, but says little about what is left; expected as well. */
    AVERAGE,
    EXACT
  }

  @SuppressWarnings("ArrayRecordComponent") // a bundle inside this class
  private record Step(double[] direction, Curvature curvature, double decrement) {}

  /** Nothing when the start itself is outside the domain, or when the climb was given up. */
  Optional<Maximum> climb(double[] start, GiveUp giveUp) {
    residualNeeded = false;
    Optional<Maximum> first = ascend(start, giveUp);
    if (!residualNeeded || first.isEmpty() || !first.get().atToken()) {
      return first;
    }
    // the token share may have been needed on the way only
    double[] zero = first.get().theta().clone();
    zero[zero.length - 1] = 0;
    if (!(surface.logLikelihood(zero) >= first.get().logLikelihood())) {
      return first;
    }
    residualNeeded = false;
    Optional<Maximum> second = ascend(zero, (theta, value, slopes) -> false);
    boolean higher =
        second.isPresent() && second.get().logLikelihood() >= first.get().logLikelihood();
    return higher ? second : first;
  }

  private Optional<Maximum> ascend(double[] start, GiveUp giveUp) {
    double[] theta = start.clone();
    double value = surface.logLikelihood(theta);
    if (!Double.isFinite(value)) {
      return Optional.empty();
    }
    int before = surface.evaluations();
    boolean finishing = false;
    for (int iteration = 0; ; iteration++) {
      Likelihood.Derivatives slopes = surface.derivatives();
      if (giveUp.at(theta, value, slopes)) {
        return Optional.empty();
      }
      if (finishing) {
        return Optional.of(
            new Maximum(
                theta, value, slopes, iteration, true, "no further step changes the result"));
      }
      // a step too short to leave the point costs no evaluation, so steps are counted as well
      if (Math.max(iteration, surface.evaluations() - before) > mostEvaluations) {
        return Optional.of(new Maximum(theta, value, slopes, iteration, false, LIMIT_REACHED));
      }
      Step step = step(theta, slopes);
      double length = relativeLength(theta, step.direction);
      if (length < 1e-13) {
        return Optional.of(
            new Maximum(
                theta, value, slopes, iteration, true, "no further step changes the result"));
      }
      if (step.decrement >= 0 && step.decrement < enough) {
        return Optional.of(new Maximum(theta, value, slopes, iteration, true, "near enough"));
      }
      Optional<double[]> next = advance(theta, value, step);
      boolean flat = step.decrement < FLAT_DECREMENT;
      if (next.isEmpty() && !flat) {
        // an average information that is singular but for rounding points anywhere
        surface.logLikelihood(theta);
        step = scoring(theta, slopes);
        next = advance(theta, value, step);
      }
      if (next.isEmpty()) {
        surface.logLikelihood(theta);
        String reason =
            flat
                ? "no step raises the likelihood beyond rounding"
                : "no step raises the likelihood";
        return Optional.of(
            new Maximum(theta, value, surface.derivatives(), iteration, flat, reason));
      }
      boolean wholeStep = isWhole(theta, step.direction, next.get());
      finishing = wholeStep && isLast(step, length);
      theta = next.get();
      value = surface.logLikelihood(theta);
    }
  }

  /** True when what is left after a step is as small as the square of the shortest Newton step. */
  private boolean isLast(Step step, double length) {
    return step.curvature == Curvature.EXACT
        && (length < lastStep || step.decrement < SMALLEST_DECREMENT);
  }

  /** Zero, or a token share once V without the residual has turned out to be singular. */
  private double residualFloor(double[] theta) {
    return residualNeeded ? TOKEN_RESIDUAL * Arrays.stream(theta).sum() : 0;
  }

  private static boolean isWhole(double[] theta, double[] direction, double[] next) {
    for (int k = 0; k < theta.length; k++) {
      if (Math.max(0, theta[k] + direction[k]) != next[k]) {
        return false;
      }
    }
    return true;
  }

  private Optional<double[]> advance(double[] theta, double value, Step step) {
    double[] direction = step.direction;
    int residual = theta.length - 1;
    boolean keepResidual = surface.data().withinDegreesOfFreedom > 0;
    // close to the top a step gains less than the likelihood is rounded by
    double lost = 1e-8 + 1e-11 * Math.abs(value);
    double rounding = step.decrement < lost ? 1e-9 : 1e-12;
    double slack = rounding * (1 + Math.abs(value));
    double share = 1;
    for (int halving = 0; halving <= MOST_HALVINGS; halving++) {
      double[] next = new double[theta.length];
      for (int k = 0; k < theta.length; k++) {
        next[k] = held[k] ? theta[k] : Math.max(0, theta[k] + share * direction[k]);
      }
      if (!held[residual] && next[residual] <= residualFloor(theta)) {
        next[residual] = residualFloor(theta);
      }
      if ((keepResidual || halving > 0) && !held[residual]) {
        next[residual] = Math.max(next[residual], 0.2 * theta[residual]);
      }
      double reached = surface.logLikelihood(next);
      if (reached >= value - slack) {
        return Optional.of(next);
      }
      if (next[residual] == 0 && reached == Double.NEGATIVE_INFINITY) {
        residualNeeded = true;
      }
      share /= 2;
    }
    return Optional.empty();
  }

  private Step step(double[] theta, Likelihood.Derivatives slopes) {
    double floor = floor(theta);
    boolean[] free = free(theta, slopes, floor);
    Step average =
        direction(theta, slopes.score(), slopes.average(), free, Curvature.AVERAGE, floor);
    if (surface.probed() && average.decrement >= 0) {
      // thousands of units make it as good as the exact curvature
      return new Step(average.direction, Curvature.EXACT, average.decrement);
    }
    if (average.decrement >= NEAR_DECREMENT) {
      return average;
    }
    Step newton = direction(theta, slopes.score(), slopes.observed(), free, Curvature.EXACT, floor);
    return newton.decrement > 0 ? newton : scoring(theta, slopes);
  }

  /** The step by the expected information, which leads uphill wherever the model can be fitted. */
  private Step scoring(double[] theta, Likelihood.Derivatives slopes) {
    double floor = floor(theta);
    boolean[] free = free(theta, slopes, floor);
    return direction(theta, slopes.score(), slopes.expected(), free, Curvature.AVERAGE, floor);
  }

  /** Share of the total below which a component counts as zero. */
  private static double floor(double[] theta) {
    return 1e-10 * Arrays.stream(theta).sum();
  }

  /** Components that may move: not held, and not at zero while the likelihood falls from there. */
  private boolean[] free(double[] theta, Likelihood.Derivatives slopes, double floor) {
    boolean[] free = new boolean[theta.length];
    for (int k = 0; k < free.length; k++) {
      free[k] = !held[k] && !(theta[k] <= floor && slopes.score()[k] <= 0);
    }
    int residual = theta.length - 1;
    if (theta[residual] <= 1.01 * residualFloor(theta) && slopes.score()[residual] <= 0) {
      free[residual] = false;
    }
    return free;
  }

  /** Solves over the free components; shrinks the set while a component at zero would go below. */
  private static Step direction(
      double[] theta,
      double[] score,
      double[][] information,
      boolean[] freeAtFirst,
      Curvature curvature,
      double floor) {
    boolean[] free = freeAtFirst.clone();
    while (true) {
      int[] index = IntStream.range(0, free.length).filter(k -> free[k]).toArray();
      Optional<double[]> solved = SmallMatrix.solve(information, score, index);
      double[] direction = solved.orElseGet(() -> new double[theta.length]);
      // what sits below the floor and does not want to rise is put to zero
      for (int k = 0; k < theta.length; k++) {
        if (!freeAtFirst[k] && theta[k] <= floor && score[k] <= 0) {
          direction[k] = -theta[k];
        }
      }
      if (index.length == 0 || solved.isEmpty()) {
        return new Step(direction, curvature, index.length == 0 ? 0 : -1);
      }
      double decrement = 0;
      boolean dropped = false;
      for (int k : index) {
        decrement += direction[k] * score[k];
        if (theta[k] <= floor && direction[k] < 0) {
          free[k] = false;
          dropped = true;
        }
      }
      if (!dropped) {
        return new Step(direction, curvature, decrement);
      }
    }
  }

  private double relativeLength(double[] theta, double[] direction) {
    double floor = floor(theta);
    double longest = 0;
    for (int k = 0; k < theta.length; k++) {
      double move = Math.max(direction[k], -theta[k]);
      longest = Math.max(longest, Math.abs(move) / Math.max(theta[k], floor));
    }
    return longest;
  }

  /** Where a climb ended. */
  @SuppressWarnings("ArrayRecordComponent") // a bundle inside this package
  record Maximum(
      double[] theta,
      double logLikelihood,
      Likelihood.Derivatives derivatives,
      int iterations,
      boolean converged,
      String reason) {
    /** Whether the climb was given up on its way. */
    boolean unfinished() {
      return reason.equals(LIMIT_REACHED);
    }

    /** True when the residual stands at its token share, next to zero. */
    boolean atToken() {
      double residual = theta[theta.length - 1];
      return residual > 0 && residual <= 1.01 * TOKEN_RESIDUAL * Arrays.stream(theta).sum();
    }

    /**
     * By how much the likelihood grows each time the residual shrinks by a factor e at its token
     * share: half the number of contrasts that depend on the residual alone and came out as zero. 0
     * where the likelihood is bounded. A single such contrast, as a rotation of two passes has it,
     * can be zero by chance in rounded readings; the residual then counts as zero. More say that
     * the units reproduce the readings.
     */
    double unboundedness() {
      int e = theta.length - 1;
      double growth = atToken() ? -derivatives.score()[e] * theta[e] : 0;
      return growth > 0.1 ? growth : 0;
    }
  }
}
