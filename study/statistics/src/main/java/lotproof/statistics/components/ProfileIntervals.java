package lotproof.statistics.components;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.stream.IntStream;
import lotproof.statistics.Checks;
import lotproof.statistics.DistributionQuantiles;
import lotproof.statistics.Interval;
import lotproof.statistics.components.VarianceMaximizer.Maximum;
import lotproof.statistics.linear.SmallMatrix;
import org.apache.commons.numbers.gamma.Digamma;

/**
 * Profile likelihood intervals of standard deviations: all values v at which the likelihood,
 * maximised over the other components, has not fallen by more than half the chi-square quantile
 * with one degree of freedom. Restricted likelihood when the fit is REML.
 *
 * <p>The lower end is 0 when zero is inside. Simulated coverage of 95 % intervals in studies of 10
 * to 50 units: plain 0.91 to 0.95, adjusted 0.94 to 0.95 (docs/guarantees.md).
 *
 * <p>Algorithm: the signed root sqrt(2 (l_max - l)) is followed in log variance by Newton steps
 * kept inside a bracket; its slope is the score of the held component. The other components start
 * from where they were at the last point.
 *
 * <p>Source: Venzon and Moolgavkar (1988), Applied Statistics 37 (from memory).
 */
public final class ProfileIntervals {
  private static final int MOST_STEPS = 80;

  /** In log variance; the likelihood itself is rounded more coarsely than a closer step sees. */
  private static final double LAST_MOVE = 1e-10;

  private static final double HOPELESS_FALL_PER_ROW = 100;

  /** A Newton step from a point that misses the target by this much ends at it within 1e-9. */
  private static final double LAST_MISS = 2e-5;

  /** The profile is flat in the other components, so a rough maximum gives it exactly. */
  private static final double INNER_STEP = 1e-3;

  private final LikelihoodSurface surface;
  private final double[] estimate;
  private final double top;
  private final Point maximum;
  private final double[][] covariance;
  private final double[] targets;
  private final double confidence;

  private ProfileIntervals(ComponentsFit fit, double confidence, boolean adjusted) {
    this.surface = fit.surface();
    this.estimate = fit.scaledVariances();
    this.top = fit.scaledLogLikelihood();
    double[][] information = fit.scaledInformation();
    this.maximum = new Point(0, 0, estimate, information);
    this.covariance =
        SmallMatrix.inverse(information)
            .orElseThrow(() -> new IllegalStateException("information is singular"));
    this.confidence = confidence;
    this.targets = new double[estimate.length];
    double quantile = DistributionQuantiles.normal((1 + confidence) / 2);
    for (int k = 0; k < targets.length; k++) {
      double size = adjusted ? meanStatistic(degreesOfFreedom(k)) : 1;
      targets[k] = quantile * Math.sqrt(size);
    }
  }

  /** Those of a chi-square variable with the relative variance of the estimate. */
  private double degreesOfFreedom(int k) {
    return estimate[k] > 0 ? Math.max(1, 2 * estimate[k] * estimate[k] / covariance[k][k]) : 1;
  }

  /**
   * Mean of the likelihood ratio statistic of a variance that is estimated on nu degrees of freedom
   * alone, nu (ln(nu / 2) - digamma(nu / 2)); 1 for many, 1.27 for one.
   */
  private static double meanStatistic(double nu) {
    return nu * (Math.log(nu / 2) - Digamma.value(nu / 2));
  }

  /** One interval for each component, in the order of the components. */
  public static List<Interval> ofStandardDeviations(ComponentsFit fit, double confidence) {
    return of(fit, confidence, false);
  }

  /**
   * The same with the chi-square quantile widened by the mean of the likelihood ratio statistic for
   * a variance with as many degrees of freedom as the estimate has (Bartlett 1937; exact on average
   * for a single variance, an approximation elsewhere). Meant for components that rest on few
   * degrees of freedom, such as the residual of a small rotation, where the plain interval is too
   * short.
   */
  public static List<Interval> adjusted(ComponentsFit fit, double confidence) {
    return of(fit, confidence, true);
  }

  private static List<Interval> of(ComponentsFit fit, double confidence, boolean adjusted) {
    Checks.fraction(confidence, "confidence");
    ProfileIntervals profile = new ProfileIntervals(fit, confidence, adjusted);
    List<Interval> result = new ArrayList<>();
    double scale = fit.data().scale;
    for (int k = 0; k < profile.estimate.length; k++) {
      Interval scaled = profile.interval(k);
      result.add(new Interval(scaled.lower() * scale, scaled.upper() * scale, confidence));
    }
    return List.copyOf(result);
  }

  private Interval interval(int k) {
    double upper = Math.sqrt(end(k, true));
    double lower = estimate[k] == 0 || rootAtZero(k) <= targets[k] ? 0 : Math.sqrt(end(k, false));
    return new Interval(lower, upper, confidence);
  }

  /**
   * A point of the profile: signed root, its slope by the log of the variance, all variances, and
   * the average information there.
   */
  @SuppressWarnings("ArrayRecordComponent") // a bundle inside this class
  private record Point(double root, double slope, double[] theta, double[][] information) {}

  private double rootAtZero(int k) {
    Optional<Point> point = at(k, 0, maximum);
    if (point.isEmpty() && k == estimate.length - 1) {
      // zero itself is singular; where no repeat speaks against it, "next to zero" decides
      double token = VarianceMaximizer.TOKEN_RESIDUAL * Arrays.stream(estimate).sum();
      double[] next = estimate.clone();
      next[k] = token;
      // a contrast free of units costs its square over the residual, which no other component mends
      boolean hopeless =
          2 * (top - surface.logLikelihood(next)) > HOPELESS_FALL_PER_ROW * surface.data().rows;
      point = hopeless ? Optional.empty() : at(k, token, maximum);
    }
    return point.isPresent() ? point.get().root : Double.POSITIVE_INFINITY;
  }

  /** Variance at which the root reaches the target, above or below the estimate. */
  private double end(int k, boolean above) {
    double target = targets[k];
    double width = Math.sqrt(covariance[k][k]);
    double low = above && estimate[k] > 0 ? Math.log(estimate[k]) : Double.NEGATIVE_INFINITY;
    double high = above ? Double.POSITIVE_INFINITY : Math.log(estimate[k]);
    double u;
    if (estimate[k] == 0) {
      u = Math.log(target * width);
    } else {
      u = Math.log(estimate[k]) + chiSquareMove(width / estimate[k], target, above);
    }
    Point from = maximum;
    for (int step = 0; step < MOST_STEPS; step++) {
      Optional<Point> found = at(k, Math.exp(u), from);
      double root = found.isPresent() ? found.get().root : Double.POSITIVE_INFINITY;
      boolean inside = root < target;
      if (inside == above) {
        low = u;
      } else {
        high = u;
      }
      double next = Double.NaN;
      if (found.isPresent()) {
        from = found.get();
        next = u - (root - target) / found.get().slope;
        if (Math.abs(root - target) < LAST_MISS) {
          return Math.exp(next);
        }
      }
      if (!(next > low && next < high)) {
        next = between(low, high, u);
      }
      if (Math.abs(next - u) < LAST_MOVE) {
        return Math.exp(next);
      }
      u = Math.max(u - 5, Math.min(u + 5, next));
    }
    return Math.exp(u);
  }

  /**
   * By how much the log of the variance would move if the estimate were a mean square with the same
   * relative standard error (cube root of chi-square, Wilson and Hilferty 1931; from memory).
   */
  private static double chiSquareMove(double relativeError, double target, boolean above) {
    double part = relativeError * relativeError / 9;
    double root = 1 - part + (above ? -1 : 1) * target * Math.sqrt(part);
    return Math.max(-3, -3 * Math.log(Math.max(root, 0.4)));
  }

  private static double between(double low, double high, double u) {
    if (low == Double.NEGATIVE_INFINITY) {
      return u - 1;
    }
    if (high == Double.POSITIVE_INFINITY) {
      return u + 1;
    }
    return (low + high) / 2;
  }

  /** Maximises over the others with component k held at a variance. */
  private Optional<Point> at(int k, double variance, Point from) {
    double[] start = predicted(k, variance, from);
    boolean[] held = new boolean[start.length];
    held[k] = true;
    Optional<Maximum> reached = climb(start, held);
    int residual = start.length - 1;
    if (k != residual && reached.isEmpty() && start[residual] == 0) {
      start[residual] = 1e-3 * Arrays.stream(start).sum();
      reached = climb(start, held);
    }
    if (k != residual && reached.isPresent() && reached.get().unboundedness() > 0) {
      // the likelihood without bound next to a zero residual is not what the interval is about
      held[residual] = true;
      start[residual] = estimate[residual];
      reached = climb(start, held);
    }
    if (reached.isEmpty()) {
      return Optional.empty();
    }
    double fall = 2 * (top - reached.get().logLikelihood());
    double root = Math.sqrt(Math.max(0, fall));
    double slope = -reached.get().derivatives().score()[k] * variance / Math.max(root, 1e-12);
    return Optional.of(
        new Point(root, slope, reached.get().theta(), reached.get().derivatives().average()));
  }

  /**
   * Where the others stand when component k moves on: along the line on which their slopes stay
   * zero, as far as the average information at the last point tells.
   */
  private double[] predicted(int k, double variance, Point from) {
    double[] theta = from.theta;
    double[] start = theta.clone();
    start[k] = variance;
    int[] free = IntStream.range(0, theta.length).filter(j -> j != k && theta[j] > 0).toArray();
    double[] right = new double[theta.length];
    Arrays.setAll(right, j -> -from.information[j][k] * (variance - theta[k]));
    Optional<double[]> moves = SmallMatrix.solve(from.information, right, free);
    for (int j : free) {
      double moved = theta[j] + moves.map(all -> all[j]).orElse(0.0);
      start[j] = Math.max(theta[j] / 3, moved);
    }
    return start;
  }

  private Optional<Maximum> climb(double[] start, boolean[] held) {
    VarianceMaximizer ascent =
        new VarianceMaximizer(
            surface, held, INNER_STEP, 0, VarianceMaximizer.EVALUATIONS_FROM_NEARBY);
    return ascent.climb(start, (theta, value, slopes) -> false);
  }
}
