package lotproof.statistics.components;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.stream.IntStream;

/**
 * Fits other values on the structure of an earlier fit by scoring steps from its variances, made
 * for many thousand simulated studies whose truth is the earlier fit's.
 *
 * <p>A step solves I theta = 1/2 (y'P V_k P y), I the expected information, over the components
 * that stay above zero. The first step is taken at the earlier variances, where P and I are known;
 * steps end within a fifth of a standard error of the top. Limits for a future unit take one more
 * step themselves and differ from those of a whole fit by a small part of their own uncertainty.
 */
final class QuickRefit {
  /** A fifth of a standard error, squared. */
  private static final double CLOSE = 0.04;

  private static final int MOST_STEPS = 8;

  /** Share of its earlier variance at which a residual stays that a step would make zero. */
  private static final double LEAST_RESIDUAL = 0.05;

  private final ComponentsFit earlier;
  private final Likelihood there;
  private final double[][] information;

  QuickRefit(ComponentsFit earlier) {
    this.earlier = earlier;
    this.there = earlier.surface().last();
    this.information = earlier.scaledInformation();
    // worked out now, so that threads only read it later
    double[] ignored = there.project(earlier.data().y);
    assert ignored.length == earlier.data().rows;
  }

  /**
   * A fit and the likelihood that stands at it.
   *
   * @param fit the fit
   * @param likelihood at its variances
   */
  record Refitted(ComponentsFit fit, Likelihood likelihood) {}

  /** Nothing when the values do not differ or no step leads on. */
  Optional<Refitted> of(double[] values) {
    ReducedRows data = earlier.data().withValues(values);
    if (Estimability.values(data).isPresent()) {
      return Optional.empty();
    }
    LikelihoodSurface surface = new LikelihoodSurface(data, earlier.criterion());
    double scale = earlier.data().scale / data.scale;
    double[] from = earlier.scaledVariances();
    double[] theta = stepped(information, forms(data), leastResidual(from, scale));
    for (int step = 1; step <= MOST_STEPS; step++) {
      double value = surface.logLikelihood(theta);
      if (!Double.isFinite(value)) {
        return Optional.empty();
      }
      Likelihood.Derivatives slopes = surface.derivatives();
      double[][] expected = slopes.expected();
      double[] target = SmallMatrix.times(expected, theta);
      for (int k = 0; k < target.length; k++) {
        target[k] += slopes.score()[k];
      }
      double[] next = stepped(expected, target, leastResidual(from, scale));
      double distance = 0;
      for (int k = 0; k < next.length; k++) {
        distance += (next[k] - theta[k]) * slopes.score()[k];
      }
      if (Math.abs(distance) <= CLOSE) {
        return Optional.of(refitted(surface, theta, value, slopes, step));
      }
      theta = next;
    }
    return Optional.empty();
  }

  private static double leastResidual(double[] from, double scale) {
    return LEAST_RESIDUAL * from[from.length - 1] * scale * scale;
  }

  /** Half of y'P V_k P y at the earlier variances; within rows the residual's part. */
  private double[] forms(ReducedRows data) {
    double[] py = there.project(data.y);
    double[] forms = new double[information.length];
    for (int k = 0; k < forms.length; k++) {
      forms[k] = Dense.dot(py, there.times(k, py)) / 2;
    }
    int e = forms.length - 1;
    if (data.withinDegreesOfFreedom > 0) {
      double theta = there.point()[e];
      forms[e] += data.withinSquares / (2 * theta * theta);
    }
    return forms;
  }

  /** Solves over the components that come out above zero; the others are zero. */
  private static double[] stepped(double[][] information, double[] forms, double leastResidual) {
    int n = forms.length;
    int[] free = IntStream.range(0, n).toArray();
    double[] theta = new double[n];
    while (free.length > 0) {
      int[] index = free;
      double[][] part = new double[index.length][index.length];
      double[] right = new double[index.length];
      for (int a = 0; a < index.length; a++) {
        right[a] = forms[index[a]];
        for (int b = 0; b < index.length; b++) {
          part[a][b] = information[index[a]][index[b]];
        }
      }
      Optional<double[]> solved = SmallMatrix.solve(part, right);
      Arrays.fill(theta, 0);
      if (solved.isEmpty()) {
        break;
      }
      List<Integer> kept = new ArrayList<>();
      for (int a = 0; a < index.length; a++) {
        double value = solved.get()[a];
        theta[index[a]] = Math.max(0, value);
        if (value > 0) {
          kept.add(index[a]);
        }
      }
      if (kept.size() == index.length) {
        break;
      }
      free = kept.stream().mapToInt(Integer::intValue).toArray();
    }
    theta[n - 1] = Math.max(theta[n - 1], leastResidual);
    return theta;
  }

  private Refitted refitted(
      LikelihoodSurface surface,
      double[] theta,
      double value,
      Likelihood.Derivatives slopes,
      int steps) {
    ProjectedAscent.Summit summit =
        new ProjectedAscent.Summit(
            theta, value, slopes, steps, true, "close enough for a simulation");
    FitRecord record =
        new FitRecord(List.of(), List.of(), steps, steps, 1, summit.reason(), true, Set.of());
    ComponentsFit fit = new ComponentsFit(surface, earlier.criterion(), summit, record);
    return new Refitted(fit, surface.last());
  }
}
