package lotproof.statistics;

import org.apache.commons.math3.analysis.integration.gauss.GaussIntegrator;
import org.apache.commons.math3.analysis.integration.gauss.GaussIntegratorFactory;
import org.apache.commons.math3.analysis.solvers.AllowedSolution;
import org.apache.commons.math3.analysis.solvers.IllinoisSolver;

/**
 * Bound for all points of a curve whose values are jointly normal: P(|X_x| at most A at all points
 * x), or P(X_x at most A at all points x) where one side counts, and the A of a given probability.
 *
 * <p>With the events E_x = (|X_x| or X_x above A), P(any E_x) is at most sum P(E_x) - sum P(E_x and
 * E_y) over the pairs of a spanning tree; the tree with the largest sum is taken. This is exact
 * where errors follow one another, as those in proportion to the load do, and where at most two
 * points can be off together; else A comes out a little too large, never too small (but for the
 * quadrature, 1e-4 of A). How much too large grows with the number of independent points and as the
 * probability falls: for eight independent points 0.2 % at 0.95 and 6 % at 0.5. P(E_x and E_y) is a
 * sum over the corners of the plane by Sheppard's integral over the angle,
 *
 * <p>P(X above h, Y above k) = Q(h) Q(k) + 1/(2 pi) integral from 0 to asin(r) of exp(-(h^2 + k^2 -
 * 2 h k sin t) / (2 cos^2 t)) dt,
 *
 * <p>by Gauss-Legendre points. Nothing is random.
 *
 * <p>Sources: Hunter (1976), J. Appl. Prob. 13, and Worsley (1982), Biometrika 69, for the bound;
 * Drezner and Wesolowsky (1990), J. Stat. Comput. Simul. 35, for the integral (all from memory).
 */
public final class JointNormalBound {
  private static final int MOST_STEPS = 200;

  /** Of the largest standard deviation; what is left of the bracket of a root. */
  private static final double CLOSE = 1e-6;

  /** Of the probability; a root that is off by less is one. */
  private static final double NO_DIFFERENCE = 1e-8;

  /** A point that is so rarely beyond a half width changes nothing. */
  private static final double RARE = 1e-12;

  private static final GaussIntegrator NODES = new GaussIntegratorFactory().legendre(14);

  private final double[] means;
  private final double[] sds;
  private final double[][] angles;

  private final boolean sizes;

  /**
   * A curve.
   *
   * @param means of the points, at least one
   * @param covariance of the points, positive semi-definite
   * @param sizes true: sizes are bounded; false: values from above, however low they are
   */
  public JointNormalBound(double[] means, double[][] covariance, boolean sizes) {
    this.sizes = sizes;
    this.means = means.clone();
    int points = means.length;
    sds = new double[points];
    angles = new double[points][points];
    for (int x = 0; x < points; x++) {
      sds[x] = Math.sqrt(Math.max(0, covariance[x][x]));
      for (int y = 0; y < x; y++) {
        double product = sds[x] * sds[y];
        double r = product > 0 ? covariance[x][y] / product : 0;
        angles[x][y] = Math.asin(Math.max(-1, Math.min(1, r)));
        angles[y][x] = angles[x][y];
      }
    }
  }

  /** P(no point is beyond the bound), or a little less. */
  public double within(double bound) {
    int points = means.length;
    double[] above = new double[points];
    double[] below = new double[points];
    double[] beyond = new double[points];
    double sum = 0;
    for (int x = 0; x < points; x++) {
      if (!(sds[x] > 0)) {
        if ((sizes ? Math.abs(means[x]) : means[x]) > bound) {
          return 0;
        }
        continue;
      }
      above[x] = (bound - means[x]) / sds[x];
      below[x] = sizes ? (bound + means[x]) / sds[x] : Double.POSITIVE_INFINITY;
      beyond[x] =
          DistributionQuantiles.NORMAL.cumulativeProbability(-above[x])
              + DistributionQuantiles.NORMAL.cumulativeProbability(-below[x]);
      sum += beyond[x];
    }
    return Math.max(0, Math.min(1, 1 - sum + tree(above, below, beyond)));
  }

  /** The largest sum of P(E_x and E_y) over the pairs of a spanning tree, grown point by point. */
  private double tree(double[] above, double[] below, double[] beyond) {
    int points = beyond.length;
    int start = 0;
    for (int x = 1; x < points; x++) {
      start = beyond[x] > beyond[start] ? x : start;
    }
    double[] joined = new double[points];
    boolean[] inside = new boolean[points];
    double sum = 0;
    int last = start;
    inside[start] = true;
    for (int count = 1; count < points; count++) {
      int next = -1;
      for (int x = 0; x < points; x++) {
        if (inside[x]) {
          continue;
        }
        // what is shared cannot be more than the rarer of the two
        if (Math.min(beyond[x], beyond[last]) > Math.max(RARE, joined[x])) {
          joined[x] = Math.max(joined[x], both(x, last, above, below, beyond));
        }
        next = next < 0 || joined[x] > joined[next] ? x : next;
      }
      inside[next] = true;
      sum += joined[next];
      last = next;
    }
    return sum;
  }

  private double both(int x, int y, double[] above, double[] below, double[] beyond) {
    double angle = angles[x][y];
    double sum = 0;
    for (int i = 0; i < NODES.getNumberOfPoints(); i++) {
      double t = angle / 2 * (1 + NODES.getPoint(i));
      double s = Math.sin(t);
      double scale = -0.5 / ((1 - s) * (1 + s));
      double inside = corner(above[x], above[y], s, scale);
      if (sizes) {
        inside += corner(below[x], below[y], s, scale);
        inside -= corner(above[x], below[y], -s, scale) + corner(below[x], above[y], -s, scale);
      }
      sum += NODES.getWeight(i) * inside;
    }
    double shared = beyond[x] * beyond[y] + sum * angle / (4 * Math.PI);
    return Math.max(0, Math.min(shared, Math.min(beyond[x], beyond[y])));
  }

  private static double corner(double h, double k, double sine, double scale) {
    return Math.exp(scale * (h * h + k * k - 2 * h * k * sine));
  }

  /**
   * The A that no point exceeds with a probability.
   *
   * @param content in 0..1
   */
  public double bound(double content) {
    Checks.fraction(content, "content");
    double low = Double.NEGATIVE_INFINITY;
    double widest = 0;
    for (int x = 0; x < means.length; x++) {
      double alone =
          sizes
              ? FoldedNormal.halfWidth(means[x], sds[x], content)
              : means[x] + DistributionQuantiles.normal(content) * sds[x];
      low = Math.max(low, alone);
      widest = Math.max(widest, sds[x]);
    }
    if (within(low) >= content - NO_DIFFERENCE || widest == 0) {
      return low;
    }
    double high = low + widest / 4;
    while (within(high) < content) {
      high += widest / 4;
    }
    return new IllinoisSolver(0, CLOSE * widest, NO_DIFFERENCE)
        .solve(MOST_STEPS, a -> within(a) - content, low, high, AllowedSolution.RIGHT_SIDE);
  }
}
