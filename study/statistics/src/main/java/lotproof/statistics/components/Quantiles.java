package lotproof.statistics.components;

import org.apache.commons.statistics.distribution.ChiSquaredDistribution;
import org.apache.commons.statistics.distribution.ContinuousDistribution;
import org.apache.commons.statistics.distribution.NormalDistribution;
import org.apache.commons.statistics.distribution.TDistribution;

/** Quantiles of Commons Statistics, sharpened by Newton steps where its solver stops at 1e-9. */
final class Quantiles {
  private static final NormalDistribution NORMAL = NormalDistribution.of(0, 1);

  /** Below this the cube is no start. */
  private static final double SMALLEST_ROOT = 0.2;

  private static final double FEW_DEGREES = 4;

  private Quantiles() {}

  static double normal(double probability) {
    return NORMAL.inverseCumulativeProbability(probability);
  }

  static double normalDensity(double z) {
    return NORMAL.density(z);
  }

  static double normalBelow(double z) {
    return NORMAL.cumulativeProbability(z);
  }

  /** From the cube of a normal quantile (Wilson and Hilferty 1931), close enough for Newton. */
  static double chiSquared(double probability, double degreesOfFreedom) {
    ContinuousDistribution distribution = ChiSquaredDistribution.of(degreesOfFreedom);
    double spread = 2 / (9 * degreesOfFreedom);
    double root = 1 - spread + normal(probability) * Math.sqrt(spread);
    return root > SMALLEST_ROOT
        ? climbed(distribution, probability, degreesOfFreedom * root * root * root)
        : sharpened(distribution, probability);
  }

  /** From two terms of the expansion of Student's quantile about the normal one. */
  static double student(double probability, double degreesOfFreedom) {
    ContinuousDistribution distribution = TDistribution.of(degreesOfFreedom);
    if (degreesOfFreedom < FEW_DEGREES) {
      return sharpened(distribution, probability);
    }
    double z = normal(probability);
    double z3 = z * z * z;
    double first = (z3 + z) / (4 * degreesOfFreedom);
    double second = (5 * z3 * z * z + 16 * z3 + 3 * z) / (96 * degreesOfFreedom * degreesOfFreedom);
    return climbed(distribution, probability, z + first + second);
  }

  /** Newton from a start near the root; the library's own search where that does not close in. */
  private static double climbed(
      ContinuousDistribution distribution, double probability, double start) {
    double x = start;
    for (int i = 0; i < 12; i++) {
      double density = distribution.density(x);
      if (!(density > 0) || Double.isInfinite(density)) {
        break;
      }
      double step = (distribution.cumulativeProbability(x) - probability) / density;
      x -= step;
      if (!(x > distribution.getSupportLowerBound())) {
        break;
      }
      if (Math.abs(step) <= 1e-11 * Math.abs(x)) {
        return x;
      }
    }
    return sharpened(distribution, probability);
  }

  static double sharpened(ContinuousDistribution distribution, double probability) {
    double x = distribution.inverseCumulativeProbability(probability);
    for (int i = 0; i < 3; i++) {
      double density = distribution.density(x);
      if (!(density > 0) || Double.isInfinite(density)) {
        return x;
      }
      double next = x - (distribution.cumulativeProbability(x) - probability) / density;
      if (!(next > distribution.getSupportLowerBound())) {
        return x;
      }
      x = next;
    }
    return x;
  }
}
