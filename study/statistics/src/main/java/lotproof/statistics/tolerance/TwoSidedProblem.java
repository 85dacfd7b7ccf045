package lotproof.statistics.tolerance;

import lotproof.statistics.DistributionQuantiles;
import org.apache.commons.numbers.gamma.LogGamma;
import org.apache.commons.statistics.distribution.ChiSquaredDistribution;
import org.apache.commons.statistics.distribution.NormalDistribution;

/**
 * The chance that a two-sided normal tolerance interval holds less than its content, and the factor
 * for a wanted chance.
 *
 * <p>Failure(k) = Integral over all z of phi(z) Pr(chi-square(nu) &lt; nu r(z / sqrt(N))² / k²) dz;
 * r(x) solves Q(r - x) + Q(r + x) = 1 - content with the normal upper tail Q. r grows along dr/dx =
 * tanh(x r), which gives each node a start that one or two Halley steps finish.
 *
 * <p>The trapezoidal rule on the whole line converges geometrically for such an integrand. The
 * search uses a wide step; the nodes half-way between are evaluated at the factor found and serve
 * both as the error estimate and as the refinement. Halving the step at least squares the error, so
 * an agreement of the two rules to 1e-6 leaves about 1e-12. Where they do not agree, the step is
 * halved and the search repeated.
 */
final class TwoSidedProblem {
  private static final NormalDistribution NORMAL = NormalDistribution.of(0, 1);
  private static final double AGREEMENT = 1e-6;
  private static final double ROUNDING = 1e-14;
  private static final double NARROWEST_STEP = 1e-3;
  private static final double ROOT_TWO_PI = Math.sqrt(2 * Math.PI);

  private final double rootN;
  private final double degreesOfFreedom;
  private final double outside;
  private final double atCentre;
  private final ChiSquaredDistribution chiSquare;
  private final double logGammaOfHalf;

  TwoSidedProblem(double effectiveN, double degreesOfFreedom, double content) {
    this.rootN = Math.sqrt(effectiveN);
    this.degreesOfFreedom = degreesOfFreedom;
    this.outside = 1 - content;
    this.atCentre = DistributionQuantiles.normalUpper(outside / 2);
    this.chiSquare = ChiSquaredDistribution.of(degreesOfFreedom);
    this.logGammaOfHalf = LogGamma.value(0.5 * degreesOfFreedom);
  }

  /** The failure with its first two derivatives by ln k. */
  private record Failure(double value, double slope, double curvature) {
    Failure plus(Failure other) {
      return new Failure(value + other.value, slope + other.slope, curvature + other.curvature);
    }

    Failure times(double factor) {
      return new Failure(value * factor, slope * factor, curvature * factor);
    }

    boolean agreesWith(Failure other) {
      double smallerTail = Math.min(value, 1 - value);
      return Math.abs(value - other.value) <= AGREEMENT * smallerTail + ROUNDING;
    }
  }

  /** The nodes of the fine rule; those with an even number make up the wide rule. */
  private final class Rule {
    private final double[] halfWidthSquared;
    private final double[] weight;

    Rule(double wideStep, double reach) {
      double step = 0.5 * wideStep;
      int count = (int) Math.ceil(reach / step) + 1;
      halfWidthSquared = new double[count];
      weight = new double[count];
      double r = atCentre;
      for (int i = 0; i < count; i++) {
        double z = i * step;
        if (i > 0) {
          r = halfWidth(z / rootN, predict((z - step) / rootN, r, step / rootN));
        }
        halfWidthSquared[i] = r * r;
        // Both signs of z at once; the node at zero counts once.
        weight[i] = (i == 0 ? 1 : 2) * step * Math.exp(-0.5 * z * z) / ROOT_TWO_PI;
      }
    }

    Failure wide(double logK) {
      return sum(logK, 0).times(2);
    }

    Failure fine(double logK, Failure wide) {
      return sum(logK, 1).plus(wide.times(0.5));
    }

    private Failure sum(double logK, int first) {
      double scale = degreesOfFreedom * Math.exp(-2 * logK);
      double half = 0.5 * degreesOfFreedom;
      double value = 0;
      double slope = 0;
      double curvature = 0;
      for (int i = first; i < weight.length; i += 2) {
        double q = scale * halfWidthSquared[i];
        double qDensity = Math.exp(half * Math.log(0.5 * q) - 0.5 * q - logGammaOfHalf);
        value += weight[i] * chiSquare.cumulativeProbability(q);
        slope -= weight[i] * 2 * qDensity;
        curvature += weight[i] * 2 * qDensity * (degreesOfFreedom - q);
      }
      return new Failure(value, slope, curvature);
    }
  }

  /** The factor that fails with the chance 1 - confidence. */
  double factor(double confidence) {
    // Where one Halley step from here is exact to far below 1e-9; the scale of ln k is 1/sqrt(2
    // nu).
    double closeEnough = 3e-4 / Math.sqrt(1 + 2 * degreesOfFreedom);
    double reach = reach(Math.min(confidence, 1 - confidence));
    double logK = start(confidence);
    // wide where the mean is well known; narrower where r bends within the reach of the mean
    for (double step = Math.min(1.25, 0.35 * rootN); ; step *= 0.5) {
      Rule rule = new Rule(step, reach);
      Bracket bracket = new Bracket(logK);
      Failure wide = rule.wide(bracket.at);
      double move = halley(wide, confidence);
      // Written so that a move that is no number, far from the root, counts as not close.
      while (!(Math.abs(move) <= closeEnough) && bracket.open()) {
        bracket.advance(wide.value > 1 - confidence, move);
        wide = rule.wide(bracket.at);
        move = halley(wide, confidence);
      }
      logK = bracket.at;
      Failure fine = rule.fine(logK, wide);
      if (fine.agreesWith(wide) || step < NARROWEST_STEP) {
        return Math.exp(logK + halley(fine, confidence));
      }
    }
  }

  /** How far out the mean must be followed, in its own standard deviations. */
  private static double reach(double smallerTail) {
    return smallerTail >= 0.005 ? 7.4 : 8.8;
  }

  /** One midpoint step along dr/dx = tanh(x r). */
  private static double predict(double x, double r, double step) {
    double middle = r + 0.5 * step * Math.tanh(x * r);
    return r + step * Math.tanh((x + 0.5 * step) * middle);
  }

  /** Solves Q(r - x) + Q(r + x) = outside by Halley steps on the logarithm of the left side. */
  private double halfWidth(double x, double start) {
    double r = start;
    for (int i = 0; i < 60; i++) {
      double a = r - x;
      double b = r + x;
      double tails = NORMAL.survivalProbability(a) + NORMAL.survivalProbability(b);
      double nearDensity = Math.exp(-0.5 * a * a) / ROOT_TWO_PI;
      double farDensity = Math.exp(-0.5 * b * b) / ROOT_TWO_PI;
      double slope = -(nearDensity + farDensity) / tails;
      double curvature = (a * nearDensity + b * farDensity) / tails - slope * slope;
      double f = Math.log(tails / outside);
      double move = f / (slope - 0.5 * f * curvature / slope);
      r = Math.max(1e-300, r - move);
      // Halley triples the digits: a move of 1e-4 leaves an error of about 1e-12.
      if (Math.abs(move) <= 1e-4 * r) {
        return r;
      }
    }
    return r;
  }

  /** A point that moves by Halley steps and is kept between the points known to lie either side. */
  private static final class Bracket {
    private double at;
    private double lower = Double.NEGATIVE_INFINITY;
    private double upper = Double.POSITIVE_INFINITY;

    Bracket(double at) {
      this.at = at;
    }

    boolean open() {
      return upper - lower > 1e-15 * Math.max(1, Math.abs(at));
    }

    void advance(boolean rootLiesAbove, double move) {
      if (rootLiesAbove) {
        lower = at;
      } else {
        upper = at;
      }
      double next = at + move;
      if (next > lower && next < upper && Math.abs(move) <= 3) {
        at = next;
      } else if (Double.isInfinite(lower)) {
        at -= 1;
      } else if (Double.isInfinite(upper)) {
        at += 1;
      } else {
        at = 0.5 * (lower + upper);
      }
    }
  }

  /** The Halley move of ln k toward the wanted confidence, on the log of the smaller tail. */
  private static double halley(Failure failure, double confidence) {
    double f;
    double slope;
    double curvature;
    if (confidence > 0.5) {
      f = Math.log(failure.value / (1 - confidence));
      slope = failure.slope / failure.value;
      curvature = failure.curvature / failure.value - slope * slope;
    } else {
      double success = 1 - failure.value;
      f = Math.log(success / confidence);
      slope = -failure.slope / success;
      curvature = -failure.curvature / success - slope * slope;
    }
    return -f / (slope - 0.5 * f * curvature / slope);
  }

  /**
   * Howe's approximation k = z sqrt(nu (1 + 1/N) / chi-square) with the chi-square quantile of
   * Wilson and Hilferty, or its leading power where that fails.
   */
  private double start(double confidence) {
    double spread = 2 / (9 * degreesOfFreedom);
    double z = DistributionQuantiles.normalUpper(confidence);
    double cube = 1 - spread + z * Math.sqrt(spread);
    double quantile = degreesOfFreedom * cube * cube * cube;
    if (cube < 0.35) {
      double half = 0.5 * degreesOfFreedom;
      quantile = 2 * Math.exp((Math.log1p(-confidence) + logGammaOfHalf + Math.log(half)) / half);
    }
    double howe = atCentre * Math.sqrt(degreesOfFreedom * (1 + 1 / (rootN * rootN)) / quantile);
    return Math.log(howe);
  }
}
